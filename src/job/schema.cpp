// SPDX-License-Identifier: GPL-3.0-or-later
#include "schema.hpp"

#include <algorithm>
#include <numbers>

#include "grainwright/flight/airframe.hpp"
#include "grainwright/job/job.hpp"
#include "grainwright/motor/atmosphere.hpp"

namespace grainwright {
namespace {

using Form = ValueKind::Form;

constexpr ValueKind text{"text", Form::text};
constexpr ValueKind whole{"whole number", Form::whole};
constexpr ValueKind wholes{"list of whole numbers", Form::whole};
constexpr ValueKind faces{"list of texts", Form::free};
constexpr ValueKind texts{"list of texts", Form::free};
constexpr ValueKind table{"table", Form::free};
constexpr ValueKind tables{"list of tables", Form::free};
constexpr ValueKind layers{"list of [material, length]", Form::free};
constexpr ValueKind strengths{"list of [temperature, number]", Form::free, Dimension::temperature};
constexpr ValueKind cures{"list of [time, stress]", Form::free, Dimension::time};
constexpr ValueKind profile{"text, or list of [fraction, thrust]", Form::free};
constexpr ValueKind length{"length", Form::quantity, Dimension::length};
constexpr ValueKind core{"length, or a table", Form::quantity, Dimension::length, true};
constexpr ValueKind stations{"list of [length, length]", Form::quantity, Dimension::length, true};
constexpr ValueKind lengths{"list of lengths", Form::quantity, Dimension::length};
constexpr ValueKind ratio{"number", Form::quantity, Dimension::ratio};
constexpr ValueKind rate{"burn rate", Form::quantity, Dimension::speed};
constexpr ValueKind speed{"speed", Form::quantity, Dimension::speed};
constexpr ValueKind pressure{"pressure", Form::quantity, Dimension::pressure};
constexpr ValueKind ceiling{"pressure, or text", Form::quantity, Dimension::pressure};
constexpr ValueKind stress{"stress", Form::quantity, Dimension::pressure};
constexpr ValueKind force{"force", Form::quantity, Dimension::force};
constexpr ValueKind duration{"time", Form::quantity, Dimension::time};
constexpr ValueKind conductivity{"conductivity", Form::quantity, Dimension::conductivity};
constexpr ValueKind specific_heat{"specific heat", Form::quantity, Dimension::specific_heat};
constexpr ValueKind transfer{"heat transfer coefficient", Form::quantity, Dimension::heat_transfer};
constexpr ValueKind gas_side{"heat transfer coefficient, or text", Form::quantity,
                             Dimension::heat_transfer};
constexpr ValueKind density{"density", Form::quantity, Dimension::density};
constexpr ValueKind temperature{"temperature", Form::quantity, Dimension::temperature};
constexpr ValueKind per_kelvin{"per temperature step", Form::quantity, Dimension::per_kelvin};
constexpr ValueKind molar_mass{"molar mass", Form::quantity, Dimension::molar_mass};
constexpr ValueKind angle{"angle", Form::quantity, Dimension::angle};
constexpr ValueKind mass_flux{"mass flux", Form::quantity, Dimension::mass_flux};
constexpr ValueKind area{"area", Form::quantity, Dimension::area};
constexpr ValueKind spread_of_share{"number, or spread", Form::free, Dimension::ratio};
constexpr ValueKind spread_of_length{"length or number, or spread", Form::free, Dimension::length};
constexpr ValueKind spread_of_offset{"length, or spread", Form::free, Dimension::length};
constexpr ValueKind spread_of_temperature{"temperature step, or spread", Form::free,
                                          Dimension::temperature_step};
constexpr ValueKind volume{"volume", Form::quantity, Dimension::volume};
constexpr ValueKind time_bound{"time, or bounds", Form::quantity, Dimension::time};
constexpr ValueKind impulse_bound{"impulse, or bounds", Form::quantity, Dimension::impulse};
constexpr ValueKind speed_bound{"speed, or bounds", Form::quantity, Dimension::speed};
constexpr ValueKind ratio_bound{"number, or bounds", Form::quantity, Dimension::ratio};
constexpr ValueKind height_bound{"length, or bounds", Form::quantity, Dimension::distance};
constexpr ValueKind mass{"mass", Form::quantity, Dimension::mass};
constexpr ValueKind drag{"number, or list of [Mach, number]", Form::free};
constexpr ValueKind force_bound{"force, or bounds", Form::quantity, Dimension::force};

constexpr Range any{"any"};
constexpr Range any_material{"a shipped material, or one of [[material]]"};
constexpr Range positive{"above 0", [](double v) { return v > 0; }};
constexpr Range not_negative{"0 or more", [](double v) { return v >= 0; }};
constexpr Range fraction{"above 0, up to 1", [](double v) { return v > 0 && v <= 1; }};
constexpr Range share{"from 0 to under 1", [](double v) { return v >= 0 && v < 1; }};
constexpr Range part{"from 0 to 1", [](double v) { return v >= 0 && v <= 1; }};
constexpr Range correlated{"above -1, below 1", [](double v) { return v > -1 && v < 1; }};
constexpr Range web_factor{"from 0.5 to 2, and so between the three places",
                           [](double v) { return v >= 0.5 && v <= 2; }};
constexpr Range over_one{"above 1", [](double v) { return v > 1; }};
constexpr Range stable{"below 1: from 1 on no pressure is stable and the motor runs away",
                       [](double v) { return v < 1; }};
constexpr Range chances{"from 0.5 to under 1", [](double v) { return v >= 0.5 && v < 1; }};
constexpr Range spreads_of_share{
    "a share such as \"5 %\", from 0 to under 1; or { sigma = ... } or { limits = ... }"};
constexpr Range spreads_of_length{
    "a length or a share, 0 or more; or { sigma = ... } or { limits = ... }"};
constexpr Range spreads_of_offset{"a length, 0 or more; or { sigma = ... } or { limits = ... }"};
constexpr Range spreads_of_temperature{
    "a temperature step, 0 or more; or { sigma = ... } or { limits = ... }"};
constexpr Range leads{"above 1, up to 2", [](double v) { return v > 1 && v <= 2; }};
constexpr Range cone{"from 0 to under 90 deg",
                     [](double v) { return v >= 0 && v < std::numbers::pi / 2; }};
constexpr Range warm{"above absolute zero", [](double v) { return v > 0; }};
constexpr Range weather{"from -60 to 80 degC",
                        [](double v) { return v >= coldest_grain && v <= hottest_grain; }};
constexpr Range altitudes{"from -2000 m to 80 km",
                          [](double v) { return v >= lowest_altitude && v <= highest_altitude; }};
constexpr Range launches{"from -2000 m to 30 km",
                         [](double v) { return v >= lowest_altitude && v <= highest_launch; }};
constexpr Range upward{"from 30 to 90 deg", [](double v) {
                         return v >= flattest_rail && v <= std::numbers::pi / 2 * (1 + 1e-12);
                       }};
constexpr Range counts{"1 to 1000", [](double v) { return v >= 1 && v <= 1000; }};
constexpr Range builds{"1 to 24", [](double v) { return v >= 1 && v <= 24; }};
constexpr Range ends{"0, 1 and 2", [](double v) { return v >= 0 && v <= 2; }};

constexpr std::string_view shipped_or_required = "the shipped value; an own propellant needs it";
constexpr std::string_view bound_meaning_tail = "a plain value is the least; { at_least, at_most }";

constexpr Rule all_rules[] = {
    {"job.title", text, "\"\"", any, "what the job is called in print"},
    {"job.units", text, "\"us\"", {"\"us\" or \"si\""}, "how results are printed"},

    {"casing.pipe",
     text,
     "none: bore and wall are needed",
     {"ASTM D1785 sizes 3/4 to 4, e.g. \"1-1/2 sch 40\""},
     "a standard pipe; gives its average bore and least wall"},
    {"casing.bore", length, "the pipe's", positive, "inside diameter; measure yours"},
    {"casing.wall", length, "the pipe's", positive, "least wall thickness"},
    {"casing.grain_room", length, "required", positive, "length for segments and spacers together"},
    {"casing.tube_wall", length, "\"0 mm\"", not_negative, "wall of the casting tube"},
    {"casing.fit", length, "\"0 mm\"", not_negative,
     "clearance of the casting tube in the bore, on the diameter"},
    {"casing.length", length, "unknown: not checked", positive,
     "of the whole pipe; the grain room and both closures must fit in it"},
    {"casing.material", text, "none: what holds is not judged", any_material,
     "of the pipe; needed by `margins`"},
    {"casing.tube_material", text, "\"paper\"", any_material,
     "of the casting tube, which keeps the heat from the pipe"},

    {"propellant.name", text, "required", any,
     "a shipped propellant, whose data the other keys replace one by one; or any name"},
    {"propellant.density", density, shipped_or_required, positive, "ideal density, without voids"},
    {"propellant.density_ratio", ratio, "the shipped value, else 1", fraction,
     "as cast / ideal; weigh a segment to know yours"},
    {"propellant.characteristic_velocity", speed,
     "the shipped value; else from flame_temperature, molar_mass and gamma", positive,
     "c*, as delivered if you have measured it"},
    {"propellant.gamma", ratio, shipped_or_required, over_one,
     "ratio of specific heats of the mixture in the chamber"},
    {"propellant.expansion_gamma", ratio, "the shipped value, else gamma", over_one,
     "the same of the expanding exhaust; lower where it carries solids"},
    {"propellant.temperature_sensitivity", per_kelvin, "the shipped value, else 0", any,
     "growth of the burn rate per step of grain temperature, at constant pressure"},
    {"propellant.reference_temperature", temperature, "the shipped value, else \"20 degC\"", warm,
     "grain temperature at which the burn law was measured"},
    {"propellant.flame_temperature", temperature, "the shipped value, else unknown", warm,
     "in the chamber; given here without characteristic_velocity, c* is worked out from it"},
    {"propellant.molar_mass", molar_mass, "the shipped value, else unknown", positive,
     "effective, of the gas: mass of gas and solids / moles of gas"},
    {"propellant.law[].rate", rate, "required", positive, "burn rate at the pressure `at`"},
    {"propellant.law[].at", pressure, "\"1 MPa\"", positive, "absolute"},
    {"propellant.law[].n", ratio, "required", stable, "exponent: rate x (P / at)^n"},
    {"propellant.law[].from", pressure, "\"0 Pa\"", not_negative,
     "where this piece begins; pieces rise and meet"},
    {"propellant.law[].to", pressure, "no end", positive, "where this piece ends"},
    {"propellant.erosion.alpha", ratio, "required", positive,
     "constant of erosive burning for SI units: mass flux in kg/(m2 s), length in m, rate in m/s"},
    {"propellant.erosion.beta", ratio, "53", not_negative, "the other constant, a plain number"},
    {"propellant.formula.*", ratio, "the shipped formula, else none", part,
     "mass fraction of the ingredient of that name; together 1"},

    {"propellant.measured.date", text, "\"\"", any, "of the firings that the law was fitted to"},
    {"propellant.measured.logs",
     texts,
     "[]",
     {"names of files; any"},
     "the stand's logs that the law was fitted to"},
    {"propellant.measured.at", pressure, "not said", positive,
     "absolute; where `rate_error` is told, best where the firings were"},
    {"propellant.measured.rate_error", ratio, "required", share,
     "of the burn rate at that pressure, relative, one standard deviation"},
    {"propellant.measured.n_error", ratio, "0", not_negative,
     "of the exponent, one standard deviation; 0 where it is not said"},
    {"propellant.measured.correlation", ratio, "0", correlated,
     "of the rate's relative error and the exponent's"},
    {"propellant.measured.efficiency_error", ratio, "0", share,
     "of the nozzle's efficiency, relative; 0 where it was not fitted"},
    {"propellant.measured.characteristic_velocity_error", ratio, "0", share,
     "of c*, relative; 0 where it was not fitted"},
    {"propellant.measured.doubtful", text, "\"\"", any,
     "why the law is not to be trusted: `--save-doubtful` writes it, and every verdict says so"},

    {"propellant.web_factor.start", ratio, "1", web_factor,
     "where the burn begins, by what the law's rate is multiplied"},
    {"propellant.web_factor.middle", ratio, "1", web_factor, "half way through the web"},
    {"propellant.web_factor.end", ratio, "1", web_factor, "at burnout"},

    {"nozzle.throat", length, "needed unless [shop] has throats to choose from", positive,
     "throat diameter"},
    {"nozzle.exit", length, "the throat: a straight hole", positive,
     "exit diameter, at least the throat"},
    {"nozzle.half_angle", angle, "\"0 deg\"", cone, "of the exit cone"},
    {"nozzle.efficiency", ratio, "1", fraction, "measured / ideal thrust coefficient"},
    {"nozzle.throat_growth", speed, "\"0 mm/s\"", any,
     "of the throat's diameter: above 0 it wears, below 0 slag settles; not in the steady model"},

    {"segment[].count", whole, "1", counts, "so many alike next to each other"},
    {"segment[].length", length, "required", positive, "of the propellant"},
    {"segment[].core",
     core,
     "required",
     {"0 or more, under the outer diameter", [](double v) { return v >= 0; }},
     "core diameter; 0, which needs no unit, is a solid segment; any other core is a table, below"},
    {"segment[].core.head", length, "with nozzle: a tapered core", positive,
     "diameter at the head end"},
    {"segment[].core.nozzle", length, "with head", positive, "diameter at the nozzle end"},
    {"segment[].core.diameters",
     stations,
     "a core in steps or cones",
     {"from the head end to the length, such as [[\"0 mm\", \"12 mm\"], [\"80 mm\", \"14 mm\"]]",
      [](double v) { return v >= 0; }},
     "[place, diameter], straight between; two at one place make a step"},
    {"segment[].core.diameter", length, "with offset: a round core off centre", positive,
     "of the core"},
    {"segment[].core.offset",
     length,
     "with diameter",
     {"0 or more, and the core inside the tube", [](double v) { return v >= 0; }},
     "of the core's axis from the segment's"},
    {"segment[].core.count", whole, "with diameter: 1", counts,
     "so many such cores, evenly around the axis"},
    {"segment[].core.round[].diameter", length, "required", positive,
     "of one of several round cores, which may overlap"},
    {"segment[].core.round[].x", length, "required", any, "of its axis from the segment's"},
    {"segment[].core.round[].y", length, "required", any, "of its axis from the segment's"},
    {"segment[].core.outline",
     text,
     "a drawn core",
     {"Well-Known Text, POLYGON or MULTIPOLYGON, or the name of a file with that"},
     "outline of the void, from the segment's axis; a file is looked for beside the job"},
    {"segment[].core.unit",
     text,
     "mm, with outline",
     {"a unit of length"},
     "what the numbers of the outline count"},
    {"segment[].core.shape",
     text,
     "a core with a name",
     {"\"star\", \"slot\", \"cross\", \"slotted tube\" or \"wheel\""},
     "which; the keys below are its numbers"},
    {"segment[].core.points", whole, "required with \"star\"", counts, "of the star, N"},
    {"segment[].core.half_angle", angle, "required with \"star\"", positive,
     "theta/2, between a flank and the axis of its point of propellant"},
    {"segment[].core.fillet_centre", length, "required with \"star\"", positive,
     "l, from the axis to the centres of the fillets"},
    {"segment[].core.fillet", length, "sharp: \"star\" and \"wheel\"", not_negative,
     "f, radius of the fillets"},
    {"segment[].core.angle_fraction", ratio, "with \"star\": 1", fraction,
     "e, the part of pi/N that flanks and fillets take; an arc takes the rest"},
    {"segment[].core.length", length, "required with \"slot\" and \"cross\"", positive,
     "of the slot, or of each of the cross's two, from end to end"},
    {"segment[].core.width", length, "required with \"slot\" and \"cross\"", positive,
     "of the slot or arm"},
    {"segment[].core.ends",
     text,
     "round: \"slot\" and \"cross\"",
     {"\"round\" or \"square\""},
     "of the slot or arms"},
    {"segment[].core.bore_radius", length, "required with \"slotted tube\"", positive,
     "of the round bore from which the slots go out"},
    {"segment[].core.slots", whole, "required with \"slotted tube\"", counts, "evenly around"},
    {"segment[].core.slot_width", length, "required with \"slotted tube\"", positive,
     "of each slot, across"},
    {"segment[].core.slot_reach", length, "through the wall, with \"slotted tube\"", positive,
     "from the axis to the slots' ends"},
    {"segment[].core.spokes", whole, "required with \"wheel\"", counts, "of propellant"},
    {"segment[].core.spoke_width", length, "required with \"wheel\"", positive, "across a spoke"},
    {"segment[].core.rim", length, "required with \"wheel\"", positive,
     "radius of the void between the spokes"},
    {"segment[].core.tip", length, "required with \"wheel\"", positive,
     "from the axis to the spokes' tips"},
    {"segment[].core.tip_half_angle", angle, "square: \"wheel\"", positive,
     "between a tip's flank and the spoke's axis"},
    {"segment[].slot[].at", length, "required", positive,
     "middle of a slot cut radially into the core, from the head end"},
    {"segment[].slot[].width", length, "required", positive, "of the slot, along the axis"},
    {"segment[].slot[].depth",
     length,
     "required",
     {"above 0, short of the wall", [](double v) { return v > 0; }},
     "of the slot, outward from the core's surface where that is widest"},
    {"segment[].head_dish", length, "\"0 mm\"", not_negative,
     "how far the head end stands back at the core: it is a cone out to the tube"},
    {"segment[].nozzle_dish", length, "\"0 mm\"", not_negative, "the same at the nozzle end"},
    {"segment[].inhibited",
     faces,
     "[\"outer\"]",
     {"any of \"head\", \"nozzle\", \"core\", \"outer\"; one face must burn"},
     "faces that do not burn"},
    {"segment[].outer_diameter", length, "the casing's", positive,
     "of the propellant; only where there is no [casing], and then required"},

    {"closure.nozzle",
     table,
     "none: the seat is not judged",
     {"the keys of [closure.head], as [closure.nozzle]"},
     "how the nozzle is held in the pipe"},

    {"closure.head.joint",
     text,
     "required",
     {"\"bonded\", \"pinned\", \"screwed\", \"keyed\", \"threaded\" or \"rated\""},
     "how the closure is held in the pipe"},
    {"closure.head.material", text, "required", any_material, "of the closure"},
    {"closure.head.thickness", length, "required", positive, "of the closure, along the axis"},
    {"closure.head.seal_diameter", length, "the bond's diameter, else the bore", positive,
     "the chamber's pressure acts inside it"},
    {"closure.head.protection",
     layers,
     "none: the gas meets the closure",
     {"[] or layers such as [[\"cement-mortar\", \"6 mm\"]]"},
     "layers between the gas and the closure, gas side first"},
    {"closure.head.gas_coefficient", transfer, "that of [heat]", positive,
     "of the gas at the closure's face"},
    {"closure.head.bond", text, "required with \"bonded\"", any_material,
     "the cement or glue, a material with cure or shear"},
    {"closure.head.bond_length", length, "required with \"bonded\"", positive, "along the axis"},
    {"closure.head.bond_starts", length, "\"0 mm\"", not_negative,
     "where the bond begins, behind the closure's gas side"},
    {"closure.head.bond_diameter", length, "the bore", positive,
     "of the bonded surface; the pipe's outside for a cap"},
    {"closure.head.cure_time", duration, "required where the bond has a cure table", positive,
     "from joining to firing"},
    {"closure.head.pins", whole, "required with \"pinned\" or \"screwed\"", counts,
     "radial pins or screws"},
    {"closure.head.pin_diameter", length, "required with \"pinned\" or \"screwed\"", positive,
     "of a pin, or a screw's major diameter"},
    {"closure.head.pin_pitch", length, "required with \"screwed\"", positive,
     "of the screw's thread, which is taken to lie in the shear plane"},
    {"closure.head.pin_material", text, "required with \"pinned\" or \"screwed\"", any_material,
     "of the pins or screws"},
    {"closure.head.pin_depth", length, "required with \"pinned\" or \"screwed\"", positive,
     "from the closure's gas side to the centres of the holes"},
    {"closure.head.pin_reach", length, "required with \"pinned\" or \"screwed\"", positive,
     "of a pin inside the closure"},
    {"closure.head.end_distance", length,
     "required with \"pinned\", \"screwed\", or \"keyed\" in holes", positive,
     "from the centres of the holes to the end of the pipe"},
    {"closure.head.holes", whole, "required with \"keyed\", or a lip", counts,
     "in the pipe, into which the plug is cast"},
    {"closure.head.hole_diameter", length, "required with holes", positive, "of each"},
    {"closure.head.hole_depth", length, "required with holes", positive,
     "from the plug's gas side to the centres of the holes"},
    {"closure.head.lip_opening", length, "required with \"keyed\", or holes", positive,
     "diameter inside the lip behind which the plug is cast"},
    {"closure.head.lip_thickness", length, "required with a lip", positive, "along the axis"},
    {"closure.head.thread_diameter", length, "required with \"threaded\"", positive, "major"},
    {"closure.head.thread_pitch", length, "required with \"threaded\"", positive,
     "of a 60 deg thread"},
    {"closure.head.engagement", length, "required with \"threaded\"", positive,
     "length over which the threads are in mesh"},
    {"closure.head.play", length, "none", not_negative, "between the two pitch diameters"},
    {"closure.head.rated_load", force, "required with \"rated\"", positive,
     "a load that you have proved, cold"},

    {"material[].name", text, "required", any, "your own, or a shipped one's that it replaces"},
    {"material[].source", text, "required", any, "where these numbers come from"},
    {"material[].like", text, "none", any_material,
     "a material whose data stand where this one says nothing"},
    {"material[].conductivity", conductivity, "that of `like`, else unknown", positive, "of heat"},
    {"material[].density", density, "that of `like`, else unknown", positive, "in place"},
    {"material[].specific_heat", specific_heat, "that of `like`, else unknown", positive,
     "at constant pressure"},
    {"material[].yield", stress, "that of `like`, else unknown", positive, "in tension, cold"},
    {"material[].ultimate", stress, "that of `like`, else unknown", positive, "in tension, cold"},
    {"material[].shear", stress, "that of `like`, else unknown", positive, "ultimate, cold"},
    {"material[].bearing", stress, "that of `like`, else unknown", positive, "ultimate, cold"},
    {"material[].rating_stress", stress, "that of `like`, else unknown", positive,
     "S in 2 S t/(D - t), a plastic pipe's rating for water"},
    {"material[].burst_stress", stress, "that of `like`, else unknown", positive,
     "S in 2 S t/(D - t), a plastic pipe's short-time burst"},
    {"material[].cure",
     cures,
     "that of `like`, else none",
     {"rising, such as [[\"2 h\", \"250 psi\"], [\"16 h\", \"500 psi\"]]"},
     "of a bond: the lap shear that it has after so long"},
    {"material[].strength_at",
     strengths,
     "that of `like`, else strong as cold",
     {"rising, such as [[\"20 degC\", 1], [\"60 degC\", 0.2]]"},
     "share of the cold strength that is left; nothing above the last"},
    {"material[].caution", text, "that of `like`, else \"\"", any,
     "what `margins` says wherever it is used"},

    {"heat.gas_coefficient",
     gas_side,
     "\"bartz\"",
     {"above 0; \"bartz\" or \"pipe flow\" to estimate it", [](double v) { return v > 0; }},
     "of the gas at every wall, while gas flows"},
    {"heat.gas_temperature", temperature, "the propellant's flame temperature", warm,
     "of the gas in the chamber"},

    {"day.temperature", temperature, "\"20 degC\"", weather, "of the grain when it is lit"},
    {"day.ambient_pressure", pressure, "that of the altitude", not_negative, "0 in vacuum"},
    {"day.altitude", length, "\"0 m\"", altitudes,
     "above sea level; gives the ambient pressure of a standard day"},

    {"firing.igniter_pressure", pressure, "ambient pressure and 5 % of the steady one", positive,
     "in the chamber at ignition, absolute, at least ambient; for the transient model"},
    {"firing.spare_volume", volume,
     "the grain room left over, and a cone of 45 degrees to the throat", not_negative,
     "room for gas beside ports and gaps; for the transient model"},
    {"firing.blow_down",
     text,
     "\"isothermal\"",
     {"\"isothermal\" or \"adiabatic\""},
     "what the gas does in the tail: it keeps its heat, or cools as it expands"},

    {"limits.pressure",
     ceiling,
     "no limit",
     {"above 0, or \"from strength\"", [](double v) { return v > 0; }},
     "ceiling on the highest chamber pressure, absolute"},
    {"limits.factor",
     ratio,
     "2",
     {"1 or more: under 1 a part fails before its load is reached",
      [](double v) { return v >= 1; }},
     "asked of strength / load, for every part at every moment"},
    {"limits.pressure_floor", pressure, "\"0 Pa\"", not_negative,
     "lowest chamber pressure while anything burns, absolute"},
    {"limits.confidence", ratio, "none asked", chances,
     "part of all motors, as their tolerances and mistakes make them, that must keep under the "
     "ceiling"},
    {"limits.port_to_throat", ratio, "0", not_negative,
     "smallest port area / throat area at ignition, minimum"},
    {"limits.mass_flux", mass_flux, "no limit", positive, "in the busiest port, at most"},

    {"shop.mandrels", lengths, "none; a search needs some", positive,
     "diameters of the core rods that you own"},
    {"shop.cores",
     tables,
     "none",
     {"as the table of a segment's core, the same from end to end"},
     "core rods that are not round or not in the middle, such as { shape = \"star\", ... }; taken "
     "in "
     "the one size that they have"},
    {"shop.throats", lengths, "none; a search needs some", positive,
     "throat diameters that you can drill"},
    {"shop.length_step", length, "none: any length", positive,
     "segment lengths are whole multiples of it"},
    {"shop.spacer", length, "\"0 mm\"", not_negative, "gap between neighbouring segments"},
    {"shop.most_segments", whole, "6", builds, "in one build"},
    {"shop.most_kinds", whole, "2", builds, "different segments in one build"},
    {"shop.shortest_segment", length, "\"0 mm\"", not_negative, "that you care to cast"},
    {"shop.longest_segment", length, "no limit", positive, "that you can cast"},
    {"shop.bare_ends", wholes, "[0, 1, 2]", ends, "how many ends of a segment may burn"},
    {"shop.kerf", length, "\"0 mm\"", not_negative, "width of the saw's cut"},
    {"shop.tube_stock", length, "unknown: no saw plan", positive,
     "length of the casting tube as bought"},
    {"shop.waste", ratio, "0", share, "part of the batch that is left in the pot"},
    {"shop.length_tolerance", length, "\"0 mm\"", not_negative,
     "of a segment's length, plus or minus"},
    {"shop.density_tolerance", ratio, "0.02", share, "of the cast density, plus or minus"},
    {"shop.mandrel_grip", length, "\"0 mm\"", not_negative,
     "core rod beyond each end of the segment"},

    {"wish.profile",
     profile,
     "\"flat\"",
     {"\"flat\", \"front-loaded\", \"for the rail\", or points such as [[0, 1.2], [1, 0.8]]: "
      "fractions rise from 0 to 1, thrusts 0 or more"},
     "thrust over the burn; points are fraction of burn time and relative thrust; \"for the rail\" "
     "asks for no shape, but for the most impulse that leaves the rail at rail_speed"},
    {"wish.lead", ratio, "required with \"front-loaded\", not allowed otherwise", leads,
     "thrust at ignition / mean thrust"},
    {"wish.loading", ratio, "0", part,
     "propellant volume / volume of the grain room at the grain's outer diameter, at least"},
    {"wish.burn_time", time_bound, "any", positive, bound_meaning_tail},
    {"wish.total_impulse", impulse_bound, "any", positive, bound_meaning_tail},
    {"wish.initial_thrust", force_bound, "any", positive, bound_meaning_tail},
    {"wish.mean_thrust", force_bound, "any", positive, bound_meaning_tail},
    {"wish.peak_thrust", force_bound, "any", positive, bound_meaning_tail},
    {"wish.rail_speed", speed_bound, "any; required with \"for the rail\"", positive,
     "as the last guide leaves the rail; needs [airframe]; else as above"},
    {"wish.thrust_to_weight", ratio_bound, "any", positive,
     "at first motion; needs [airframe]; else as above"},
    {"wish.apogee", height_bound, "any", positive,
     "above the launch; needs [airframe]; else as above"},

    {"tolerance.burn_rate", spread_of_share, "as measured, else common practice, \"5 %\"",
     spreads_of_share, "of the whole batch, at the same pressure"},
    {"tolerance.density", spread_of_share, "common practice, \"1 %\"", spreads_of_share, "as cast"},
    {"tolerance.characteristic_velocity", spread_of_share,
     "as measured, else common practice, \"2 %\"", spreads_of_share, "as delivered"},
    {"tolerance.nozzle_efficiency", spread_of_share, "as measured, else common practice, \"2 %\"",
     spreads_of_share, "of the thrust coefficient"},
    {"tolerance.throat", spread_of_length, "common practice, limits of \"0.05 mm\"",
     spreads_of_length, "of the throat's diameter"},
    {"tolerance.core", spread_of_length, "common practice, limits of \"0.1 mm\"", spreads_of_length,
     "of the core's diameter; one rod makes all its cores alike"},
    {"tolerance.core_offset", spread_of_offset, "exact", spreads_of_offset,
     "of the axis of a plain round core from the segment's; raises no pressure, but frees the wall "
     "sooner"},
    {"tolerance.length", spread_of_length, "common practice, limits of \"0.4 mm\"",
     spreads_of_length, "of the length of each segment by itself"},
    {"tolerance.temperature", spread_of_temperature, "common practice, limits of \"3 K\"",
     spreads_of_temperature, "of the grain when it is lit"},
    {"tolerance.pipe_strength", spread_of_share, "common practice, \"8 %\"", spreads_of_share,
     "of what the pipe holds"},
    {"tolerance.head_strength", spread_of_share, "common practice, \"15 %\"", spreads_of_share,
     "of what the head closure holds"},
    {"tolerance.nozzle_strength", spread_of_share, "common practice, \"15 %\"", spreads_of_share,
     "of what the nozzle's seat holds"},

    {"fault[].kind",
     text,
     "required",
     {"\"face lights\", \"face blocked\", \"crack\", \"debond\", \"wrong throat\" or \"wrong "
      "core\""},
     "what goes wrong"},
    {"fault[].probability", ratio, "none: looked at, but not counted in", part,
     "that a motor has this mistake"},
    {"fault[].segment", whole, "1", counts, "which [[segment]] table is hit"},
    {"fault[].pieces", whole, "1", counts, "how many of that table's segments are hit"},
    {"fault[].face",
     text,
     "required with \"face lights\" or \"face blocked\"",
     {"\"head\", \"nozzle\", \"core\" or \"outer\""},
     "which face"},
    {"fault[].extra_area", area, "required with \"crack\"", positive,
     "burning area that the crack adds to each piece at ignition, both its sides together"},
    {"fault[].throat", length, "required with \"wrong throat\"", positive,
     "diameter of that drill"},
    {"fault[].core", length, "required with \"wrong core\"", positive, "diameter of that rod"},

    {"airframe.mass", mass, "required", positive, "of the rocket without its motor"},
    {"airframe.motor_hardware", mass, "required", not_negative,
     "of the motor without propellant: casing, closures, nozzle, casting tubes"},
    {"airframe.diameter", length, "required", positive,
     "of the body; its cross-section is what the drag coefficient refers to"},
    {"airframe.drag_coefficient",
     drag,
     "required",
     {"0 or more; Mach numbers rise from 0 to 25"},
     "one number, or points over Mach with straight lines between, held beyond the ends"},
    {"airframe.rail_length", length, "required", positive,
     "travelled until the last guide leaves the rail: shorter than the rail itself"},
    {"airframe.rail_elevation", angle, "\"90 deg\"", upward, "of the rail above the horizon"},
    {"airframe.launch_altitude", length, "the altitude of [day], else \"0 m\"", launches,
     "above sea level; the air there has the standard day's pressure"},
    {"airframe.air_temperature", temperature, "the standard day's", weather,
     "at the launch; the air above is off by as much as the air there"},
};

}  // namespace

std::span<const Rule> rules() {
  return all_rules;
}

const Rule* find_rule(std::string_view path) {
  const auto found = std::ranges::find(rules(), path, &Rule::path);
  return found == rules().end() ? nullptr : &*found;
}

std::vector<std::string> names_under(std::string_view path) {
  std::vector<std::string> names;
  for (const Rule& rule : rules()) {
    std::string_view rest = rule.path;
    if (!path.empty()) {
      if (!rest.starts_with(path) || rest.size() <= path.size() || rest[path.size()] != '.')
        continue;
      rest.remove_prefix(path.size() + 1);
    }
    const std::string name(rest.substr(0, rest.find_first_of(".[")));
    if (names.empty() || names.back() != name) names.push_back(name);
  }
  return names;
}

std::string table_with(std::string_view key) {
  for (const Rule& rule : rules()) {
    const std::size_t dot = rule.path.rfind('.');
    if (rule.path.substr(dot + 1) == key) return std::string(rule.path.substr(0, dot));
  }
  return "";
}

const std::vector<JobKey>& job_keys() {
  static const std::vector<JobKey> keys = [] {
    std::vector<JobKey> all;
    for (const Rule& rule : rules()) {
      all.push_back({rule.path, rule.kind.words, rule.standing, rule.range.words, rule.meaning});
    }
    return all;
  }();
  return keys;
}

}  // namespace grainwright
