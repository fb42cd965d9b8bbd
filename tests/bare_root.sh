#!/bin/sh
# The two commands of the README on a machine that has nothing: a bare Debian made in a folder, a fresh clone in it.
# For developers, as root, with `debootstrap` and `git` on the machine; about ten minutes, mostly the tests themselves.
#
#   sh tests/bare_root.sh FOLDER [SUITE]
#
# FOLDER is made where it is not there, and used again where it is a bare root already (`rm -rf` it for a new one).
# SUITE is a Debian release, bookworm when absent. What this machine knows about reaching its package registries
# (apt's sources, pip's settings, certificates, name servers) is carried into FOLDER and stays there.
set -eu

if [ $# -lt 1 ] || [ $# -gt 2 ]; then
    echo "usage: sh tests/bare_root.sh FOLDER [SUITE]" >&2
    exit 2
fi
[ "$(id -u)" = 0 ] || {
    echo "bare_root: this needs root: it makes and enters a root folder" >&2
    exit 2
}
command -v debootstrap >/dev/null || {
    echo "bare_root: debootstrap is not here: apt-get install debootstrap" >&2
    exit 5
}
checkout=$(cd "$(dirname "$0")/.." && pwd -P)
mkdir -p "$1"
folder=$(cd "$1" && pwd -P)
suite=${2:-bookworm}
[ "$folder" != / ] || exit 2

# Prints the archive of Debian packages that this machine itself uses; nothing where it is no Debian.
own_mirror() {
    cat /etc/apt/sources.list /etc/apt/sources.list.d/*.list 2>/dev/null |
        sed -n 's/^deb \(\[[^]]*\] \)\{0,1\}\([^ ]*\) .*/\2/p' | head -n 1
    sed -n 's/^URIs: *\([^ ]*\).*/\1/p' /etc/apt/sources.list.d/debian.sources 2>/dev/null | head -n 1
}

# carry PATH...: copies what is there on this machine to the same place in the folder.
carry() {
    for path in "$@"; do
        [ -e "$path" ] || continue
        mkdir -p "$folder$(dirname "$path")"
        cp -RL "$path" "$folder$(dirname "$path")/"
    done
}

if ! [ -e "$folder/etc/debian_version" ]; then
    echo "--- making a bare $suite in $folder"
    # The mirror is one word or none.
    # shellcheck disable=SC2046
    debootstrap --variant=minbase "$suite" "$folder" $(own_mirror | head -n 1)
fi
carry /etc/resolv.conf /etc/hosts /etc/pip.conf /etc/ssl/certs/ca-certificates.crt /usr/local/share/ca-certificates
if [ "$(sed -n 's/^VERSION_CODENAME=//p' /etc/os-release)" = "$suite" ]; then
    carry /etc/apt/sources.list /etc/apt/sources.list.d/debian.sources
fi
for settings in /etc/apt/apt.conf /etc/apt/apt.conf.d/*; do
    if grep -qi 'Acquire::' "$settings" 2>/dev/null; then carry "$settings"; fi
done

echo "--- a fresh clone in $folder/home/team/checkout"
rm -rf "$folder/home/team"
mkdir -p "$folder/home/team"
git clone --quiet --no-local "$checkout" "$folder/home/team/checkout"

# Mounts made in a name space of their own are gone when the command ends, however it ends.
# The inner shell is the one to expand these.
# shellcheck disable=SC2016
enter='
    mount -t proc proc "$0/proc"
    mount --rbind /dev "$0/dev"
    exec chroot "$0" /usr/bin/env -i HOME=/home/team PATH=/usr/bin:/bin TERM=dumb /bin/sh -c "$1"
'
status=0
for command in 'sh tests/run.sh' 'sh sample_archive/demo.sh'; do
    printf '\n--- %s\n' "$command"
    began=$(date +%s)
    unshare --mount /bin/sh -euc "$enter" "$folder" "cd /home/team/checkout && $command" </dev/null || {
        echo "--- FAILED: $command"
        status=1
    }
    echo "--- took $(($(date +%s) - began)) s"
done
changed=$(git -C "$folder/home/team/checkout" status --short)
[ -z "$changed" ] || {
    printf -- '--- FAILED: the checkout is no longer as it was cloned:\n%s\n' "$changed"
    status=1
}
exit $status
