#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Builds the program with clang and without optimisation beside the usual build, and tells how far what
# they print is from what the usual one prints, for every command on every case.
set -eu
cd "$(dirname "$0")/../.."

build() {
  folder=$1
  shift
  mkdir -p "$folder"
  cmake -S . -B "$folder" -G Ninja -DGRAINWRIGHT_TESTS=OFF "$@" >"$folder/log"
  cmake --build "$folder" --target grainwright_cli >>"$folder/log"
}
build build-release -DCMAKE_BUILD_TYPE=Release
build build-debug -DCMAKE_BUILD_TYPE=Debug
build build-clang -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_COMPILER=clang++

python=/usr/bin/python3
$python -B tests/release/same_bytes.py threads build-release/grainwright
for other in debug clang; do
  echo "release and $other"
  $python -B tests/release/same_bytes.py programs build-release/grainwright build-$other/grainwright
done
