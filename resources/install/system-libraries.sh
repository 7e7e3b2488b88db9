#!/bin/sh
# Sees to what dyeshade needs from the system and pip cannot bring: Python's venv, and the libraries
# that OpenCV and Qt load. Where all is there it does nothing. Where something is missing it installs
# it with apt-get, as root or through sudo; where it may not, it names what is missing.
#
# Ends with 1 where photos could not be measured without what is missing, else with 0.
set -eu

# On macOS and Windows the wheels bring everything.
[ "$(uname -s)" = Linux ] || exit 0

# file to be found, Debian's package for it
for_measuring='
libGL.so.1          libgl1
libgthread-2.0.so.0 libglib2.0-0
'
for_the_window='
libEGL.so.1            libegl1
libdbus-1.so.3         libdbus-1-3
libfontconfig.so.1     libfontconfig1
libfreetype.so.6       libfreetype6
libxkbcommon.so.0      libxkbcommon0
libxkbcommon-x11.so.0  libxkbcommon-x11-0
libX11-xcb.so.1        libx11-xcb1
libxcb.so.1            libxcb1
libxcb-cursor.so.0     libxcb-cursor0
libxcb-icccm.so.4      libxcb-icccm4
libxcb-image.so.0      libxcb-image0
libxcb-keysyms.so.1    libxcb-keysyms1
libxcb-randr.so.0      libxcb-randr0
libxcb-render.so.0     libxcb-render0
libxcb-render-util.so.0 libxcb-render-util0
libxcb-shape.so.0      libxcb-shape0
libxcb-shm.so.0        libxcb-shm0
libxcb-sync.so.1       libxcb-sync1
libxcb-util.so.1       libxcb-util1
libxcb-xfixes.so.0     libxcb-xfixes0
libxcb-xkb.so.1        libxcb-xkb1
'

# Where ldconfig lives is not on everybody's path.
known_libraries() {
    PATH="$PATH:/usr/sbin:/sbin" ldconfig -p
}

missing_of() {
    libraries=$(known_libraries)
    echo "$1" | while read -r file package; do
        [ -n "$file" ] || continue
        case "$libraries" in
            *"	$file "*) ;;
            *) echo "$package" ;;
        esac
    done
}

missing_python() {
    if ! command -v python3 >/dev/null; then
        echo python3 python3-venv
    elif ! python3 -c 'import ensurepip, venv' 2>/dev/null; then
        echo python3-venv
    fi
}

# Qt shows no letters without a font.
missing_font() {
    for folder in /usr/share/fonts /usr/local/share/fonts "${HOME:-/root}/.fonts" \
        "${HOME:-/root}/.local/share/fonts"; do
        [ -z "$(find -L "$folder" -name '*.[ot]t[fc]' 2>/dev/null | head -n 1)" ] || return 0
    done
    echo fontconfig fonts-dejavu-core
}

as_root() {
    if [ "$(id -u)" = 0 ]; then
        "$@"
    else
        sudo "$@"
    fi
}

may_install() {
    command -v apt-get >/dev/null || return 1
    [ "$(id -u)" != 0 ] || return 0
    command -v sudo >/dev/null || return 1
    # Without a terminal nobody could type the password.
    sudo -n true 2>/dev/null || [ -t 0 ]
}

look() {
    # shellcheck disable=SC2046,SC2116  # lines become words of one line
    needed=$(echo $(missing_python) $(missing_of "$for_measuring"))
    # shellcheck disable=SC2046,SC2116
    wanted=$(echo $(missing_of "$for_the_window") $(missing_font))
}

install_them() {
    as_root apt-get update -q &&
        # shellcheck disable=SC2086  # a list of packages, to be split
        as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends \
            $needed $wanted
}

look
[ -n "$needed$wanted" ] || exit 0

if may_install; then
    echo "Installing what dyeshade needs from the system: $needed $wanted" >&2
    # Where that fails, what is still missing is named below.
    install_them >&2 || true
    look
fi
if [ -n "$wanted" ]; then
    echo "The window needs these Debian packages (elsewhere their like): $wanted" >&2
fi
if [ -n "$needed" ]; then
    echo "Measuring needs these Debian packages (elsewhere their like): $needed" >&2
    echo "Please install them, or ask whoever looks after this computer; then run this again." >&2
    exit 1
fi
