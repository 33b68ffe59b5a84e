// SPDX-License-Identifier: GPL-3.0-or-later
//
// What a reader of a firing's figures must know, whatever the model.
#pragma once

#include <string>
#include <vector>

#include "grainwright/firing/steady.hpp"

namespace grainwright {

[[nodiscard]] std::vector<std::string> remarks_on(const Summary& summary,
                                                  const SteadyChamber& chamber);

}  // namespace grainwright
