"""dyeshade: from a photo of dyed pieces beside a printed grey reference to their shades."""

__version__ = "0.1.0"
