// SPDX-License-Identifier: GPL-3.0-or-later
#include "job_text.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <iomanip>
#include <iterator>
#include <sstream>

#include "grainwright/grain/core_figures.hpp"

namespace gw = grainwright;

namespace job_text {
namespace {

void describe(std::ostream& out, const gw::Propellant& p) {
  out << "\npropellant " << p.name << ' ' << p.ideal_density << ' ' << p.density_ratio << ' '
      << p.characteristic_velocity << ' ' << p.gamma << ' ' << p.expansion_gamma << ' '
      << p.temperature_sensitivity << ' ' << p.reference_temperature << ' ' << p.flame_temperature
      << ' ' << p.molar_mass;
  for (const gw::LawPiece& piece : p.law.pieces()) {
    out << "\nlaw " << piece.rate << ' ' << piece.at << ' ' << piece.exponent << ' ' << piece.from
        << ' ' << piece.to;
  }
  if (p.erosion) out << "\nerosion " << p.erosion->alpha << ' ' << p.erosion->beta;
  if (const auto& m = p.measured) {
    out << "\nmeasured " << m->date << ' ' << m->at << ' ' << m->rate_error << ' ' << m->n_error
        << ' ' << m->correlation << ' ' << m->efficiency_error << ' '
        << m->characteristic_velocity_error << ' ' << m->doubtful;
    for (const std::string& log : m->logs) out << "\nlog " << log;
  }
  if (const auto& f = p.web_factor) {
    out << "\nweb factor " << f->start << ' ' << f->middle << ' ' << f->end;
  }
  for (const gw::Ingredient& i : p.formula) out << "\nformula " << i.name << ' ' << i.mass_fraction;
}

struct DescribeCore {
  std::ostream& out;
  void operator()(const char* key, double value, gw::Dimension, gw::Need) { out << key << value; }
  void operator()(const char* key, int value, gw::Need) { out << key << value; }
  void operator()(const gw::TurnedCore& core) {
    for (const auto& s : core.stations) out << ' ' << s.at << ' ' << s.diameter;
    for (const auto& s : core.slots) out << ' ' << s.at << ' ' << s.width << ' ' << s.depth;
    out << ' ' << core.head_dish << ' ' << core.nozzle_dish;
  }
  void operator()(const gw::OffCentreCore& core) {
    out << ' ' << core.diameter << ' ' << core.offset << ' ' << core.count;
  }
  void operator()(const gw::ScatteredCores& cores) {
    for (const auto& c : cores.cores) out << ' ' << c.centre.x << ' ' << c.centre.y << c.radius;
  }
  void operator()(const gw::NamedCore& core) {
    out << ' ' << gw::name_of(core);
    std::visit([&](const auto& shape) { gw::each_figure(shape, *this); }, core.shape);
  }
  void operator()(const gw::DrawnCore& core) {
    out << ' ' << core.source << ' ' << core.unit << ' ' << gw::area_of(core.outline);
  }
};

void describe(std::ostream& out, const gw::Grain& grain) {
  out << "\nspacer " << grain.spacer;
  for (const gw::Layer& layer : grain.layers) {
    const gw::Segment& s = layer.segment;
    out << "\nsegment " << layer.count << ' ' << s.length << ' ' << s.outer_diameter << ' '
        << s.core_diameter;
    if (s.core) std::visit(DescribeCore{out}, s.core->shape);
    for (gw::Face face : gw::all_faces) out << ' ' << s.inhibited.contains(face);
  }
}

void describe(std::ostream& out, const gw::Shop& s) {
  out << "\nshop " << s.length_step << ' ' << s.spacer << ' ' << s.most_segments << ' '
      << s.most_kinds << ' ' << s.shortest_segment << ' ' << s.longest_segment << ' ' << s.kerf
      << ' ' << s.tube_stock << ' ' << s.waste << ' ' << s.length_tolerance << ' '
      << s.density_tolerance << ' ' << s.mandrel_grip;
  for (double mandrel : s.mandrels) out << "\nmandrel " << mandrel;
  for (const gw::Core& core : s.cores) std::visit(DescribeCore{out << "\nrod"}, core.shape);
  for (double throat : s.throats) out << "\nthroat " << throat;
  for (int ends : s.bare_ends) out << "\nends " << ends;
}

void describe(std::ostream& out, const gw::Wish& wish) {
  out << "\nwish " << wish.for_the_rail << ' ' << wish.loading;
  for (const auto& point : wish.profile.points())
    out << ' ' << point.fraction << ' ' << point.thrust;
  for (const gw::Bound& bound :
       {wish.burn_time, wish.total_impulse, wish.initial_thrust, wish.mean_thrust, wish.peak_thrust,
        wish.rail_speed, wish.thrust_to_weight, wish.apogee}) {
    out << "\nbound " << bound.least << ' ' << bound.most;
  }
}

void describe(std::ostream& out, const gw::Airframe& a) {
  out << "\nairframe " << a.mass << ' ' << a.hardware << ' ' << a.diameter << ' ' << a.rail_length
      << ' ' << a.rail_elevation << ' ' << a.altitude << ' ' << a.temperature.value_or(-1);
  for (const gw::DragPoint& point : a.drag) out << ' ' << point.mach << ' ' << point.coefficient;
}

void describe(std::ostream& out, const gw::Material& m) {
  out << "\nmaterial " << m.name << ' ' << m.conductivity << ' ' << m.density << ' '
      << m.specific_heat << ' ' << m.yield << ' ' << m.ultimate << ' ' << m.shear << ' '
      << m.bearing << ' ' << m.rating_stress << ' ' << m.burst_stress << ' ' << m.caution;
  for (const gw::CurePoint& point : m.cure) out << ' ' << point.time << ' ' << point.shear;
  for (const gw::StrengthPoint& point : m.strength_at) {
    out << ' ' << point.temperature << ' ' << point.share;
  }
}

struct DescribeJoint {
  std::ostream& out;
  void operator()(const gw::BondedJoint& j) const {
    describe(out, j.bond);
    out << '\n' << j.length << ' ' << j.starts << ' ' << j.diameter << ' ' << j.cure_time;
  }
  void operator()(const gw::PinnedJoint& j) const {
    describe(out, j.pin);
    out << '\n'
        << j.count << ' ' << j.diameter << ' ' << j.pitch << ' ' << j.depth << ' ' << j.reach << ' '
        << j.end_distance;
  }
  void operator()(const gw::LipJoint& j) const { out << j.opening << ' ' << j.thickness; }
  void operator()(const gw::HoleJoint& j) const {
    out << j.count << ' ' << j.diameter << ' ' << j.depth << ' ' << j.end_distance;
  }
  void operator()(const gw::ThreadedJoint& j) const {
    out << j.diameter << ' ' << j.pitch << ' ' << j.engagement << ' ' << j.play;
  }
  void operator()(const gw::RatedJoint& j) const { out << j.load; }
};

void describe(std::ostream& out, const std::vector<gw::Protection>& layers) {
  for (const gw::Protection& layer : layers) {
    out << "\nlayer " << layer.thickness;
    describe(out, layer.material);
  }
}

void describe(std::ostream& out, const gw::Closure& c) {
  out << "\nclosure " << c.thickness << ' ' << c.seal_diameter << ' ' << c.coefficient.value_or(-1)
      << ' ' << gw::name_of(c.joint) << ' ';
  describe(out, c.material);
  describe(out, c.protection);
  std::visit(DescribeJoint{out}, c.joint);
}

void describe(std::ostream& out, const gw::Shell& s) {
  out << "\nshell " << s.tube.outer_diameter << ' ' << s.tube.wall << ' ' << s.factor << ' '
      << s.length << ' ' << (s.estimate == gw::GasEstimate::bartz) << ' '
      << s.coefficient.value_or(-1) << ' ' << s.gas_temperature.value_or(-1);
  describe(out, s.material);
  describe(out, s.liner);
  if (s.head) describe(out, *s.head);
  if (s.nozzle) describe(out, *s.nozzle);
}

void describe(std::ostream& out, const gw::Tolerances& tolerances) {
  for (const gw::NamedTolerance& tolerance : gw::named_tolerances()) {
    const gw::Spread& spread = tolerances.*tolerance.spread;
    out << "\ntolerance " << tolerance.key << ' ' << gw::name_of(spread.distribution) << ' '
        << spread.sigma << ' ' << spread.share;
  }
}

void describe(std::ostream& out, const gw::Fault& fault) {
  out << "\nfault " << gw::name_of(fault.kind) << ' ' << fault.probability << ' ' << fault.layer
      << ' ' << fault.pieces << ' ' << gw::name_of(fault.face) << ' ' << fault.extra_area << ' '
      << fault.diameter;
}

}  // namespace

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

std::vector<std::string> complaints_of(const std::string& text) {
  std::vector<std::string> lines;
  try {
    static_cast<void>(gw::parse_job(text, "job"));
  } catch (const gw::InputError& error) {
    for (const gw::Complaint& complaint : error.complaints())
      lines.push_back(complaint.text().substr(4));
  }
  return lines;
}

std::string described(const gw::Job& job, bool with_design) {
  std::ostringstream out;
  out << std::setprecision(17) << job.title << ' ' << (job.units == gw::UnitSystem::si);
  if (job.casing) {
    const gw::Casing& c = *job.casing;
    out << "\ncasing " << c.pipe << ' ' << c.bore << ' ' << c.wall << ' ' << c.grain_room << ' '
        << c.tube_wall << ' ' << c.fit;
  }
  if (job.propellant) describe(out, *job.propellant);
  if (job.nozzle)
    out << "\nnozzle " << job.nozzle->half_angle << ' ' << job.nozzle->efficiency << ' '
        << job.nozzle->throat_growth;
  if (job.nozzle && with_design) {
    out << ' ' << job.nozzle->throat_diameter << ' ' << job.nozzle->exit_diameter;
  }
  if (with_design) describe(out, job.grain);
  out << "\nday " << job.day.temperature << ' ' << job.day.ambient_pressure;
  out << "\nfiring " << job.lighting.igniter_pressure.value_or(0) << ' '
      << job.lighting.spare_volume.value_or(0) << ' '
      << (job.lighting.blow_down == gw::BlowDown::adiabatic);
  out << "\nlimits " << job.limits.pressure << ' ' << job.limits.pressure_floor << ' '
      << job.limits.port_to_throat << ' ' << job.limits.mass_flux << ' ' << job.limits.confidence;
  if (job.shell) describe(out, *job.shell);
  if (job.shop) describe(out, *job.shop);
  if (job.wish) describe(out, *job.wish);
  if (job.airframe) describe(out, *job.airframe);
  describe(out, job.tolerances);
  for (const gw::Fault& fault : job.faults) describe(out, fault);
  return out.str();
}

std::string page() {
  std::ifstream file(GRAINWRIGHT_SOURCE_DIR "/docs/job-file.md");
  REQUIRE(file);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string example_of_page(int index) {
  const std::string text = page();
  const std::string fence = "```toml\n";
  std::size_t begin = 0;
  for (int i = 0; i <= index; ++i) {
    begin = text.find(fence, begin);
    REQUIRE(begin != std::string::npos);
    begin += fence.size();
  }
  return text.substr(begin, text.find("```", begin) - begin);
}

}  // namespace job_text
