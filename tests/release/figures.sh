#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Makes both pages of figures anew: docs/checks.md from every test that checks something against an
# outside value, docs/performance.md from every benchmark. Wants an idle machine and half an hour of it.
set -eu
cd "$(dirname "$0")/../.."
rm -f build/checks.md
# One test may fail: it holds the page to what was found.
tests/run -R '^checks/' || [ -f build/checks.md ] || {
  echo 'a check failed (see above), so docs/checks.md stays as it was' >&2
  exit 1
}
cp build/checks.md docs/checks.md
exec tests/benchmark/run
