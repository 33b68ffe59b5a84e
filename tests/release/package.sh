#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Makes the Debian packages twice, holds their bytes to each other, installs them in a Debian 12 that
# has nothing else, with what they depend on, and tries program and library there. Wants root,
# debootstrap and a Debian mirror.
#   tests/release/package.sh [empty folder for the chroot]
set -eu
cd "$(dirname "$0")/../.."
build=build-package
root=${1:-$(mktemp -d)}
export SOURCE_DATE_EPOCH=0

cmake -S . -B $build -G Ninja -DCMAKE_BUILD_TYPE=Release -DGRAINWRIGHT_TESTS=OFF
cmake --build $build
(cd $build && cpack && sha256sum *.deb >first.sha256 && cpack && sha256sum --check first.sha256)

debootstrap --variant=minbase bookworm "$root" >$build/debootstrap.log
trap 'umount "$root/proc"' EXIT
mount -t proc proc "$root/proc"
cp -r /etc/apt/sources.list* /etc/apt/apt.conf.d "$root/etc/apt/" 2>/dev/null || true
cp /etc/resolv.conf "$root/etc/"
cp $build/*.deb "$root/root/"
cp -r tests/consumer "$root/root/consumer"

inside() {
  chroot "$root" env -i HOME=/root PATH=/usr/sbin:/usr/bin:/sbin:/bin DEBIAN_FRONTEND=noninteractive \
    sh -euc "$1"
}
inside 'apt-get -qq update; cd /root; apt-get -qq install --no-install-recommends ./grainwright_*.deb'
inside 'dpkg --verify grainwright; dpkg-query --show --showformat="\${Package} \${Version}: \${Depends}\n" grainwright'
inside 'grainwright --version; ldd /usr/bin/grainwright | grep -c "=>"'
# The program does its whole job as nobody in particular would.
inside 'cd /tmp; cp -r /usr/share/doc/grainwright/cases .; cd cases
  grainwright design 02-flat-burn-in-a-short-casing.toml --save build.toml
  grainwright fire build.toml >fire.txt; grainwright cutlist build.toml --sheet sheet.html >cut.txt
  grainwright report build.toml --out page.html >report.txt; test -s page.html -a -s sheet.html
  test -s /usr/share/man/man1/grainwright.1.gz
  test -s /usr/share/bash-completion/completions/grainwright'
inside 'cd /root; apt-get -qq install --no-install-recommends ./libgrainwright-dev_*.deb g++ cmake make
  cmake -S consumer -B consumer/build; cmake --build consumer/build; consumer/build/consumer'
inside 'apt-get -qq remove --purge grainwright libgrainwright-dev; ! test -e /usr/bin/grainwright'
echo "the packages install, work and leave"
