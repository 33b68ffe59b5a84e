// SPDX-License-Identifier: GPL-3.0-or-later
//
// Results as JSON: SI, the unit at the end of each key, keys in a fixed order.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "columns.hpp"
#include "grainwright/assessment/assessment.hpp"
#include "grainwright/firing/firing.hpp"
#include "grainwright/search/even.hpp"
#include "grainwright/search/search.hpp"
#include "grainwright/workshop/cut_list.hpp"

namespace grainwright::cli {

using Json = nlohmann::ordered_json;

[[nodiscard]] Json json_of(const EvenStack& stack);
[[nodiscard]] Json json_of(const std::vector<Column>& columns);
[[nodiscard]] Json json_of(const Summary& summary);
/// What was judged of a motor by the highest of all models.
[[nodiscard]] Json judged_json(const Assessment& found);
[[nodiscard]] Json json_of(const TransientFigures& figures);
/// With the ports at some moments.
[[nodiscard]] Json json_of(const AxialFigures& figures);
/// Without its track.
[[nodiscard]] Json json_of(const Flight& flight);
[[nodiscard]] Json json_of(const std::vector<Check>& checks);
[[nodiscard]] Json json_of(const Grain& grain);
[[nodiscard]] Json json_of(const std::vector<Design>& designs);
[[nodiscard]] Json json_of(const std::vector<Relief>& reliefs);
[[nodiscard]] Json json_of(const CutList& list);

/// "faces": ["head", "outer"].
[[nodiscard]] Json json_of(Faces faces);

/// As it is printed.
[[nodiscard]] std::string written(const Json& json);

}  // namespace grainwright::cli
