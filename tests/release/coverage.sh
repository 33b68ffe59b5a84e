#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Runs every test but those of pages and bench on a build that counts its lines, and tells how many of
# the library's lines were reached. The pages of lines are in build-coverage/lines/.
#   tests/release/coverage.sh [least per cent, 90]
set -eu
cd "$(dirname "$0")/../.."
build=build-coverage
mkdir -p $build/lines
# Counts are updated atomically, for the threads of the search and the scatter.
cmake -S . -B $build -G Ninja -DCMAKE_BUILD_TYPE=Debug \
  -DCMAKE_CXX_FLAGS_DEBUG='-O1 --coverage -fprofile-update=atomic' >$build/log
cmake --build $build >>$build/log
find $build -name '*.gcda' -delete
ctest --test-dir $build --exclude-regex '^(browser|bench|install|package)/' --timeout 1800 |
  tail -n 20
gcovr --root . --object-directory $build --filter src/ --filter include/ \
  --exclude src/cli/ --exclude src/bench/ --exclude-unreachable-branches \
  --html-details $build/lines/index.html --print-summary --fail-under-line "${1:-90}"
