// SPDX-License-Identifier: GPL-3.0-or-later
//
// A job: what a builder has and wants, as a file describes it (TOML; docs/job-file.md).
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/assessment/assessment.hpp"
#include "grainwright/firing/transient.hpp"
#include "grainwright/flight/airframe.hpp"
#include "grainwright/motor/casing.hpp"
#include "grainwright/motor/motor.hpp"
#include "grainwright/quantity.hpp"
#include "grainwright/scatter/scatter.hpp"
#include "grainwright/search/search.hpp"
#include "grainwright/search/wish.hpp"
#include "grainwright/strength/change.hpp"
#include "grainwright/strength/margins.hpp"
#include "grainwright/workshop/cut_list.hpp"

namespace grainwright {

/// What a job file says.
struct Job {
  std::string file;  ///< what it was read from; complaints name it
  std::string title;
  UnitSystem units = UnitSystem::us;
  std::optional<Casing> casing;
  std::optional<Propellant> propellant;
  std::optional<Nozzle> nozzle;
  Grain grain;  ///< no layers when the file has no segments
  Day day;
  Lighting lighting;
  Limits limits;               ///< a ceiling "from strength" already as a pressure
  std::optional<Shell> shell;  ///< where the casing's material is given
  bool from_strength = false;  ///< limits.pressure is the shell's cold ceiling
  std::optional<Shop> shop;
  std::optional<Wish> wish;
  std::optional<Airframe> airframe;
  Tolerances tolerances;
  std::vector<Fault> faults;
  bool factor_asked = false;         ///< limits.factor is given, with a shell or without
  std::vector<Assumption> assumed;   ///< what the file leaves out and its reader filled in
  std::vector<std::string> remarks;  ///< what a reader must know, e.g. a jump in the burn law
};

/// Reads a job. Throws FileError when the file cannot be read, InputError with every complaint
/// found (each with file, line, column and key) when it cannot be accepted.
[[nodiscard]] Job read_job(const std::filesystem::path& path);
/// The same from text; `name` stands for the file in complaints.
[[nodiscard]] Job parse_job(std::string_view text, const std::string& name);

/// The motor that the job describes. Throws InputError naming the tables that are missing.
[[nodiscard]] Motor motor_of(const Job& job);
/// How it is lit: the job's, with what the stack leaves of the grain room as free volume.
[[nodiscard]] Lighting lighting_of(const Job& job);
/// The same for another motor in the job's casing.
[[nodiscard]] Lighting lighting_of(const Job& job, const Motor& motor);
/// The search that the job asks for; likewise.
[[nodiscard]] SearchTask search_task_of(const Job& job);
[[nodiscard]] WorkshopOptions workshop_options_of(const Job& job);
/// What holds the pressure in; likewise.
[[nodiscard]] Shell shell_of(const Job& job);
/// What it lifts; likewise.
[[nodiscard]] Airframe airframe_of(const Job& job);
/// All that is to be judged of the job's motor. Where it lists no faults, the usual ones without
/// probability.
[[nodiscard]] Question question_of(const Job& job);
/// The same of another motor in the job's casing.
[[nodiscard]] Question question_of(const Job& job, Motor motor);
/// What there is to change it with.
[[nodiscard]] ChangeOptions change_options_of(const Job& job);

/// The job file's text with its segments and throat replaced by a design's. Everything else is kept
/// as it stands in the file, comments included. `name` is the job's file, beside which those with
/// outlines are looked for.
[[nodiscard]] std::string with_design(std::string_view job_text, const Grain& grain,
                                      double throat_diameter, const std::string& name = "job");

/// The job file's text with a measured law, c*, density ratio and nozzle efficiency in it, rounded
/// to five digits, and how well they are known; everything else is kept. `propellant.measured` must
/// be there.
[[nodiscard]] std::string with_measured(std::string_view job_text, const Propellant& propellant,
                                        double efficiency);

/// The job file's text with one number in it changed; everything else is kept as it stands. `key`
/// is a path such as "day.temperature", its last name alone where only one table has it
/// ("temperature"), "core" or "segment.core" for every segment, "segment[2].core" for one. `value`
/// is what would stand in the file, with its unit and without quotes. A key that the file leaves
/// out is added to its table. Throws InputError where the key is unknown, holds no number, or
/// stands in a list of which the file has none. The new text is not read.
[[nodiscard]] std::string with_value(std::string_view job_text, std::string_view key,
                                     std::string_view value);

/// The job file's text asking for another profile: front-loaded with a lead, or flat; everything
/// else is kept as it stands. Throws InputError where it has no [wish]. The new text is not read.
[[nodiscard]] std::string with_profile(std::string_view job_text, std::optional<double> lead);

/// Names of the propellants that ship with the program.
[[nodiscard]] std::vector<std::string> shipped_propellants();
/// One of them, or nothing.
[[nodiscard]] std::optional<Propellant> shipped_propellant(std::string_view name);

/// Names of the materials that ship with the program, and one of them, or nothing.
[[nodiscard]] std::vector<std::string> shipped_materials();
[[nodiscard]] std::optional<Material> shipped_material(std::string_view name);

/// One key of the job file: the single source of what the reader accepts and docs/job-file.md says.
struct JobKey {
  std::string_view path;      ///< "casing.grain_room", "segment[].core"
  std::string_view kind;      ///< "length", "text", "list of lengths", ...
  std::string_view standing;  ///< "required", or the default in words
  std::string_view range;     ///< allowed values in words
  std::string_view meaning;
};
[[nodiscard]] const std::vector<JobKey>& job_keys();

/// Writes a file whole or not at all. Throws FileError; never replaces an existing file unless
/// told.
void write_whole_file(const std::filesystem::path& path, std::string_view content, bool replace);

}  // namespace grainwright
