"""Questions to the shade library: drift, fastness, pH series, nearest shade, repeatability."""
