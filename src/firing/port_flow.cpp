// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/firing/port_flow.hpp"

#include <cmath>

#include "grainwright/motor/gas.hpp"

namespace grainwright {
namespace {

// The subsonic stream in `area` that has this mass flow and p + flow u / bearing = thrust. With
// w = flow sqrt(R T0) / (area thrust) and b = area / bearing, the square of the Mach number solves
// w^2 (1 + k b M^2)^2 = k M^2 (1 + (k - 1) M^2 / 2).
std::optional<Stream> balanced(const PortGas& gas, double flow, double area, double bearing,
                               double thrust) {
  const double k = gas.gamma;
  const double b = area / bearing;
  const double w = flow / (area * thrust);
  const double w2 = w * w * gas.heat;
  const double discriminant = k * (k - w2 * (4 * k * b - 2 * (k - 1)));
  const double middle = k - 2 * k * b * w2;
  if (!(discriminant >= 0 && middle > 0)) return std::nullopt;
  const double mach2 = 2 * w2 / (middle + std::sqrt(discriminant));
  if (mach2 > 1) return std::nullopt;
  return Stream{area, flow, thrust / (1 + k * b * mach2), std::sqrt(mach2)};
}

// flow u, N.
double momentum(const PortGas& gas, const Stream& stream) {
  return stream.mach == 0 ? 0
                          : gas.gamma * stream.mach * stream.mach * stream.pressure * stream.area;
}

std::optional<Stream> narrowed(const PortGas& gas, const Stream& stream, double area) {
  const double stagnation = stagnation_pressure(gas, stream);
  const double choked = stagnation * choked_flow_function(gas.gamma) / std::sqrt(gas.heat);
  if (!(stream.flow <= choked * area)) return std::nullopt;
  if (stream.flow <= 0) return Stream{area, 0, stagnation, 0};
  const double mach = subsonic_mach(choked * area / stream.flow, gas.gamma);
  return Stream{area, stream.flow, stagnation * pressure_ratio(mach, gas.gamma), mach};
}

}  // namespace

double stagnation_pressure(const PortGas& gas, const Stream& stream) {
  return stream.mach == 0 ? stream.pressure
                          : stream.pressure / pressure_ratio(stream.mach, gas.gamma);
}

std::optional<Stream> after_adding(const PortGas& gas, const Stream& stream, double added) {
  if (std::isinf(stream.area)) {
    Stream more = stream;
    more.flow += added;
    return more;
  }
  return balanced(gas, stream.flow + added, stream.area, stream.area,
                  stream.pressure + momentum(gas, stream) / stream.area);
}

std::optional<Stream> after_entering(const PortGas& gas, const Stream& stream, double area,
                                     double added) {
  if (area < stream.area) {
    const auto joined = after_adding(gas, stream, added);
    return joined ? narrowed(gas, *joined, area) : std::nullopt;
  }
  return balanced(gas, stream.flow + added, area, area,
                  stream.pressure + momentum(gas, stream) / area);
}

std::optional<Stream> after_easing(const PortGas& gas, const Stream& stream, double area) {
  const double mean = (stream.area + area) / 2;
  return balanced(gas, stream.flow, area, mean, stream.pressure + momentum(gas, stream) / mean);
}

}  // namespace grainwright
