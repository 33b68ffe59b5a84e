// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/scatter/port_load.hpp"

#include "grainwright/grain/core.hpp"

namespace grainwright {

double port_load(const Motor& motor) {
  PortLoad load;
  for (const Layer& layer : motor.grain.layers) {
    const SegmentState state = state_at(layer.segment, 0);
    const double face =
        layer.segment.bare(Face::nozzle) ? mouth_of(layer.segment, Face::nozzle).section : 0;
    load.add(layer.count, state.burning_area, face, layer.segment.solid() ? 0 : state.port_area);
  }
  return load.load(motor.nozzle.throat_area());
}

}  // namespace grainwright
