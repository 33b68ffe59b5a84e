// SPDX-License-Identifier: GPL-3.0-or-later
//
// The first byte chooses the dimension; the rest is a quantity, which then survives being written
// and read again, or is refused in words that a terminal can show.
#include <algorithm>
#include <cmath>

#include "fuzz/support.hpp"
#include "grainwright/error.hpp"
#include "grainwright/quantity.hpp"

namespace {

using namespace grainwright;

constexpr int dimensions = static_cast<int>(Dimension::distance) + 1;

void print(double value, Dimension dimension) {
  for (const UnitSystem units : {UnitSystem::us, UnitSystem::si}) {
    fuzz::demand(!show(value, dimension, units).empty(), "it is printed");
    static_cast<void>(in_units(value, dimension, units));
  }
  if (dimension == Dimension::length) {
    static_cast<void>(show_length(value, UnitSystem::us));
    static_cast<void>(show_fraction(value));
    fuzz::demand(
        std::abs(read_quantity(write_length(value), dimension) - value) <= 1e-15 * std::abs(value),
        "a length survives being written");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const auto dimension = static_cast<Dimension>(data[0] % dimensions);
  try {
    const double value = read_quantity(fuzz::text_of(data + 1, size - 1), dimension);
    fuzz::demand(std::isfinite(value), "a quantity is finite");
    print(value, dimension);
    fuzz::demand(read_quantity(write_quantity(value, dimension), dimension) == value,
                 "a quantity survives being written");
  } catch (const InputError& error) {
    const std::string said = error.what();
    fuzz::demand(std::ranges::all_of(said, [](char c) { return c >= ' ' && c <= '~'; }),
                 "a refusal is printable");
  }
  return 0;
}
