// SPDX-License-Identifier: GPL-3.0-or-later
//
// Materials out of tables: shipped ones, and a job's own over them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/strength/material.hpp"
#include "section.hpp"

namespace grainwright {

/// One table over the material that it is like, if it names one of these. What is wrong is noted.
[[nodiscard]] Material read_material(Section& section, const std::vector<Material>& known);
/// The shipped materials, then or instead of them the job's own.
[[nodiscard]] std::vector<Material> read_materials(Section& root);
/// The material of that name under a key; notes an unknown one with the nearest known.
[[nodiscard]] std::optional<Material> material_named(Section& section, std::string_view key,
                                                     const std::string& name,
                                                     const std::vector<Material>& known);

/// Throws InputError where the shipped data are faulty.
[[nodiscard]] const std::vector<Material>& shipped_material_list();
/// src/job/materials.toml, embedded at build.
extern const std::string_view shipped_material_data;

}  // namespace grainwright
