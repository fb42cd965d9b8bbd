#!/bin/sh
# Brings what the tests and the demo need, and does nothing the second time:
#   - system packages, through apt where there is apt: Python 3.11 or later, Tesseract with English, git, certificates,
#     strace and pgrep, by which the tests see that what is written is flushed and that no child is left behind, and
#     Chromium, in which they look at the pages
#   - a virtual environment in .venv with the locked, hashed Python packages
#   - the package itself in that environment, as it stands in this checkout
# Where there is no apt it names what to install, and goes on with what is there.
#
#   sh .ci/setup.sh
#
# Exits 0 when everything is ready, 1 when a step failed (the last line says which).
set -eu

PATH="${PATH:-/usr/bin:/bin}:/usr/local/bin:/usr/local/sbin:/usr/sbin:/sbin:/opt/homebrew/bin"
export PATH
cd "$(dirname "$0")/.."
root=$(pwd -P)
environment=.venv
stamp=$environment/ready
lock=.venv.lock

say() { printf 'setup: %s\n' "$*"; }

fail() {
    printf 'setup: FAILED: %s\n' "$*" >&2
    exit 1
}

# --- What is there --------------------------------------------------------------------------------------------------

# Whether $1 is a Python that will do and that can make virtual environments.
is_fit() {
    "$1" -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1
}

# Prints the Python to use; fails when there is none.
find_python() {
    for candidate in python3.13 python3.12 python3.11 python3; do
        if is_fit "$candidate"; then
            command -v "$candidate"
            return 0
        fi
    done
    return 1
}

has_tesseract() {
    command -v tesseract >/dev/null 2>&1 && tesseract --list-langs 2>/dev/null | grep -qx eng
}

# The tests watch the system calls of a write; there is no such program but on Linux.
has_strace() {
    [ "$(uname)" != Linux ] || command -v strace >/dev/null 2>&1
}

# The tests look at the pages in it; a release that has it as no package goes without, and they say so.
has_chromium() {
    [ "$(uname)" != Linux ] || [ -x /usr/bin/chromium ] || [ -f "$environment/without-chromium" ]
}

# What the environment was made from; a change in any of it makes the environment anew.
describe_environment() {
    printf '%s\n' "$root"
    "$environment/bin/python" -c 'import sys; print(sys.version_info[:2])' 2>/dev/null || echo 'no Python'
    cksum <.ci/requirements-test.txt
}

# What the installation of the package itself was made from.
describe_package() {
    cksum <pyproject.toml
}

environment_is_ready() {
    [ -f "$stamp" ] && [ "$(cat "$stamp")" = "$(describe_environment; describe_package)" ]
}

is_ready() {
    command -v tesseract >/dev/null 2>&1 && command -v git >/dev/null 2>&1 && command -v pgrep >/dev/null 2>&1 &&
        has_strace && has_chromium && environment_is_ready
}

# --- System packages ------------------------------------------------------------------------------------------------

as_root() {
    if [ "$(id -u)" = 0 ]; then
        "$@"
    else
        sudo "$@"
    fi
}

apt_get() {
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq -o Dpkg::Use-Pty=0 "$@" >"$log" 2>&1 || {
        cat "$log" >&2
        fail "apt-get $*"
    }
}

# Installs the Debian packages named, or says what to install where there is no apt or no right to use it.
install_packages() {
    if ! command -v apt-get >/dev/null 2>&1; then
        say "not found, and there is no apt here: $*"
        say "  Fedora: sudo dnf install python3 tesseract tesseract-langpack-eng git strace procps-ng chromium"
        say "  macOS:  brew install python@3.13 tesseract git"
        say "going on with what is there"
    elif [ "$(id -u)" != 0 ] && ! command -v sudo >/dev/null 2>&1; then
        say "not found, and neither root nor sudo to install it: $*"
        say "  as root: apt-get install $*"
        say "going on with what is there"
    else
        say "installing with apt: $*"
        apt_get update
        apt_get install --yes --no-install-recommends "$@"
    fi
}

# Older releases carry a fit Python beside their own under its full name.
install_newer_python() {
    command -v apt-cache >/dev/null 2>&1 || return 0
    for version in 3.13 3.12 3.11; do
        if apt-cache show "python$version-venv" >/dev/null 2>&1; then
            install_packages "python$version" "python$version-venv"
            return 0
        fi
    done
}

bring_system_packages() {
    missing=
    find_python >/dev/null || missing="$missing python3 python3-venv"
    has_tesseract || missing="$missing tesseract-ocr tesseract-ocr-eng"
    command -v git >/dev/null 2>&1 || missing="$missing git"
    has_strace || missing="$missing strace"
    command -v pgrep >/dev/null 2>&1 || missing="$missing procps"
    [ -n "$missing" ] || return 0
    [ -e /etc/ssl/certs/ca-certificates.crt ] || missing="$missing ca-certificates"
    # The list is split into words on purpose.
    # shellcheck disable=SC2086
    install_packages $missing
    find_python >/dev/null || install_newer_python
}

# Ubuntu has Chromium as a snap alone. What only a part of the tests needs must not stop all else.
bring_chromium() {
    if has_chromium; then return 0; fi
    if ! (install_packages chromium) || ! [ -x /usr/bin/chromium ]; then
        say "note: Chromium is not here; the tests in a browser are left out, and say so"
        : >"$environment/without-chromium"
    fi
}

# --- The virtual environment ----------------------------------------------------------------------------------------

install_python_packages() {
    "$environment/bin/python" -m pip install -qq --disable-pip-version-check --no-input "$@"
}

make_environment() {
    python=$(find_python) || fail "no Python 3.11 or later that can make virtual environments (module venv) was found"
    say "making $environment with $("$python" --version) and the locked packages; about half a minute"
    rm -rf "$environment"
    "$python" -m venv "$environment" || fail "$python -m venv $environment"
    install_python_packages --only-binary :all: --require-hashes --requirement .ci/requirements-test.txt ||
        fail "installing the packages of .ci/requirements-test.txt"
}

install_package() {
    install_python_packages --no-deps --no-build-isolation --editable . || fail "installing the package itself"
}

bring_environment() {
    if environment_is_ready; then return 0; fi
    if ! [ -f "$stamp" ] || [ "$(sed '$d' "$stamp")" != "$(describe_environment)" ]; then
        make_environment
    fi
    rm -f "$stamp"
    install_package
    {
        describe_environment
        describe_package
    } >"$stamp.new"
    mv "$stamp.new" "$stamp"
}

# --- One at a time --------------------------------------------------------------------------------------------------

# The lock is a symbolic link that names the process which holds it: made in one step, or not at all.
take_lock() {
    waiting=
    until ln -s "$$" "$lock" 2>/dev/null; do
        holder=$(readlink "$lock" || true)
        if [ -n "$holder" ] && ! ps -p "$holder" >/dev/null 2>&1 && ! kill -0 "$holder" 2>/dev/null; then
            rm -f "$lock"
            continue
        fi
        [ -n "$waiting" ] || say "waiting for another set-up of this checkout (process $holder)"
        waiting=yes
        sleep 1
    done
    log=$(mktemp)
    trap 'rm -f "$lock" "$log"' EXIT
    trap 'exit 130' INT TERM HUP
}

is_ready && exit 0
take_lock
is_ready && exit 0
bring_system_packages
bring_environment
bring_chromium
has_tesseract || say "note: Tesseract with English is not here; whatever reads pictures will say so"
say "ready"
