// SPDX-License-Identifier: GPL-3.0-or-later
//
// What several commands say in the same words.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "grainwright/assessment/assessment.hpp"
#include "grainwright/firing/firing.hpp"
#include "grainwright/grain/grain.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/search/wish.hpp"
#include "page.hpp"

namespace grainwright::cli {

/// What every prediction must be read with.
inline constexpr std::string_view steady_model =
    "Steady model: at each moment the grain makes as much gas as the throat passes. It leaves out "
    "filling and blow-down of the chamber, flow along the port, erosive burning and throat wear. "
    "Pressures are absolute.";

inline constexpr std::string_view transient_model =
    "Transient model: the chamber fills from the igniter's pressure, follows the grain with a lag, "
    "and blows down. It leaves out the spread of the flame, instability, and the lag of liquid and "
    "solid exhaust; the flow along the ports stands below. Pressures are absolute.";
inline constexpr std::string_view axial_model =
    "Axial model: each slice of the grain burns at the pressure and mass flux of its place; the "
    "pressure given is that of the head end. It leaves out filling and blow-down of the chamber, "
    "friction, and the spread of the flame. Pressures are absolute.";

/// The trade's cautions, whole and in one sentence.
inline constexpr std::string_view cautions =
    "Treat every untested motor as one that will burst: light it remotely, from behind a barrier, "
    "with distance, and nobody near. Plastic casings shatter into sharp fragments, and many clubs "
    "refuse them. NFPA 1122, 1125 and 1127 do not cover home-made motors and partly discourage "
    "them; club research rules and local law decide. Ask licensed or experienced people. A "
    "predicted number is a prediction.";
inline constexpr std::string_view short_caution =
    "A prediction is no proof: treat the untested motor as one that will burst, and fire it "
    "remotely, from behind a barrier.";

/// The job's segments. Throws InputError where it has none.
[[nodiscard]] const Grain& segments_of(const Job& job);

/// "Fire: Flat burn in a short casing".
[[nodiscard]] std::string title_of(std::string_view command, const Job& job);

/// "both ends", "head end", "nozzle end" or "none".
[[nodiscard]] std::string bare_ends_of(const Segment& segment);

/// "1/2 in", "solid", "12 mm to 14 mm", "12 mm, 3 mm off centre", "drawn, 9 corners"; slots are
/// added.
[[nodiscard]] std::string core_of(const Segment& segment, UnitSystem units);

/// One line a layer: count, length, core, bare ends.
[[nodiscard]] Table table_of(const Grain& grain, UnitSystem units);

/// Figures of a firing: a table of what changes during the burn, and one of sums.
[[nodiscard]] std::array<Table, 2> summary_tables(const Summary& summary, UnitSystem units);
/// Both of them.
void tell(Page& page, const Summary& summary, UnitSystem units);

/// The profile, or what is asked in its place.
[[nodiscard]] std::string described(const Wish& wish);
/// "flat", "front-loaded, ...".
[[nodiscard]] std::string described(const Profile& profile);

/// What a reader must know of a motor: of its firing and of its job.
[[nodiscard]] std::vector<std::string> remarks_of(const Job& job, const Assessment& found);
/// A list of remarks under a heading; nothing where there are none.
void tell_remarks(Page& page, const std::vector<std::string>& remarks);

}  // namespace grainwright::cli
