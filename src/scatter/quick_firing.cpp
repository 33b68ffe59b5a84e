// SPDX-License-Identifier: GPL-3.0-or-later
#include "quick_firing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "grainwright/firing/nodes.hpp"
#include "grainwright/flight/flight.hpp"
#include "grainwright/grain/core.hpp"
#include "grainwright/strength/change.hpp"
#include "off_centre.hpp"

namespace grainwright {
namespace {

// A core never reaches its wall, and a segment never vanishes, however far a draw strays.
constexpr double widest_core = 0.999;
constexpr double shortest_segment = 1e-3;  // of its length
constexpr double throat_step = 1e-3;       // of the throat as drawn

}  // namespace

Segment strayed(const ScenePiece& piece, const Draw& draw) {
  Segment segment = piece.segment;
  const Stray& length = draw.length[piece.layer];
  segment.length = std::max(segment.length * length.factor + length.added * piece.length_share,
                            segment.length * shortest_segment);
  if (segment.core_diameter > 0) {
    segment.core_diameter =
        std::clamp(draw.core[piece.layer].of(segment.core_diameter),
                   segment.core_diameter * (1 - widest_core), segment.outer_diameter * widest_core);
  }
  return segment;
}

void Shapes::fill(ScenePiece& piece) {
  const std::lock_guard lock(busy_);
  auto known = std::ranges::find(pieces_, piece.segment, &ScenePiece::segment);
  if (known == pieces_.end()) {
    ScenePiece made{.segment = piece.segment};
    const Burnback burnback(Grain{{{piece.segment}}, 0});
    made.shaped.assign(burnback.stretches().begin(), burnback.stretches().end());
    made.port_area = burnback.port_areas(0).front();
    if (piece.segment.bare(Face::nozzle)) {
      made.nozzle_face = mouth_of(piece.segment, Face::nozzle).section;
    }
    known = pieces_.insert(known, std::move(made));
  }
  piece.shaped = known->shaped;
  piece.nozzle_face = known->nozzle_face;
  piece.port_area = known->port_area;
}

FiringGround::FiringGround(const Motor& motor, std::vector<Fault> faults,
                           std::shared_ptr<Shapes> shapes)
    : motor_(motor),
      chamber_(motor.propellant, motor.nozzle, motor.day),
      faults_(std::move(faults)),
      shapes_(std::move(shapes)),
      as_drawn_(&scene(0)) {}

const Scene& FiringGround::scene(FaultSet faults) const {
  const std::lock_guard lock(scenes_->busy);
  const auto found = scenes_->known.find(faults);
  if (found != scenes_->known.end()) return found->second;
  return scenes_->known.emplace(faults, made(faults)).first->second;
}

Scene FiringGround::made(FaultSet set) const {
  Scene scene = scene_of(motor_);
  for (std::size_t i = 0; i < faults_.size(); ++i) {
    if ((set >> i & 1U) != 0) scene = with_fault(std::move(scene), faults_[i]);
  }
  for (ScenePiece& piece : scene.pieces) {
    if (piece.segment.core) shapes_->fill(piece);
  }
  put_in_order(scene);
  StretchSum shaped;
  for (const ScenePiece& piece : scene.pieces) {
    if (piece.segment.core) shaped.add(piece.shaped, piece.count);
  }
  shaped.add_up(scene.shaped);
  scene.shaped = coarser(scene.shaped);
  return scene;
}

QuickFiring::QuickFiring(const FiringGround& ground) : ground_(&ground) {}

const Scene& QuickFiring::scene(FaultSet faults) {
  if (faults == 0) return ground_->as_drawn();
  const auto found = scenes_.find(faults);
  if (found != scenes_.end()) return *found->second;
  return *scenes_.emplace(faults, &ground_->scene(faults)).first->second;
}

void QuickFiring::take(const Draw& draw) {
  const Scene& scene = this->scene(draw.faults);
  const Motor& motor = ground_->motor();
  lay_out(draw, scene);
  set_throat(std::max(draw.throat.of(scene.throat_diameter), scene.throat_diameter / 2));
  const double throat_ratio = motor.nozzle.throat_diameter / throat_;
  density_ = draw.density;
  characteristic_velocity_ = draw.characteristic_velocity;
  strain_ = draw.density * draw.characteristic_velocity * throat_ratio * throat_ratio;
  warmth_ = std::exp(motor.propellant.temperature_sensitivity * draw.temperature);
  rate_ = draw.burn_rate * warmth_;
  efficiency_ = draw.efficiency;
  port_load_ = ports_.load(std::numbers::pi / 4 * throat_ * throat_);
  port_chokes_ = ground_->carry().chokes(port_load_, draw.faults);
  ratio_ = ground_->carry().ratio(port_load_, draw.faults);
}

void QuickFiring::lay_out(const Draw& draw, const Scene& scene) {
  parts_.clear();
  ports_ = {};
  parts_.add(scene.shaped, 1);
  for (const ScenePiece& piece : scene.pieces) add_piece(piece, draw);
  parts_.add_up(stretches_);
  // Webs and areas are from here on those that burn alike under the plain law.
  if (const auto& factor = ground_->chamber().web_factor()) {
    stretches_ = even_rate(stretches_, factor, stretches_.back().to);
  }
  greatest_area_ = 0;
  for (const Stretch& stretch : stretches_) {
    greatest_area_ = std::max(greatest_area_, area_range(stretch).greatest);
  }
}

void QuickFiring::add_piece(const ScenePiece& piece, const Draw& draw) {
  if (piece.segment.core) {
    ports_.add(piece.count, piece.shaped.front().area(0), piece.nozzle_face, piece.port_area);
    return;
  }
  const Segment segment = strayed(piece, draw);
  const Quadratic area = burning_area_of(segment);
  const double port = std::numbers::pi / 4 * segment.core_diameter * segment.core_diameter;
  const double tube = std::numbers::pi / 4 * segment.outer_diameter * segment.outer_diameter;
  ports_.add(piece.count, area(0), segment.bare(Face::nozzle) ? tube - port : 0, port);
  const double web = (segment.outer_diameter - segment.core_diameter) / 2;
  const double offset = std::min(draw.offset[piece.layer], widest_core * web);
  if (offset > 0 && segment.bare(Face::core) && !segment.bare(Face::outer)) {
    off_centre_.clear();
    add_off_centre(segment, offset, off_centre_);
    parts_.add(off_centre_, piece.count);
  } else {
    const Stretch whole{0, burnout_web(segment), area};
    parts_.add({&whole, 1}, piece.count);
  }
}

void QuickFiring::set_throat(double diameter) {
  if (below_ != nullptr && diameter == throat_) return;
  throat_ = diameter;
  const double steps = diameter / (throat_step * ground_->motor().nozzle.throat_diameter);
  const long step = static_cast<long>(steps);
  part_above_ = steps - static_cast<double>(step);
  below_ = &law_near(step);
  above_ = &law_near(step + 1);
}

const ThrustLaw& QuickFiring::law_near(long step) {
  const auto found = laws_.find(step);
  if (found != laws_.end()) return found->second;
  const Motor& drawn = ground_->motor();
  const double throat = static_cast<double>(step) * throat_step * drawn.nozzle.throat_diameter;
  const Motor motor = with_throat(drawn, throat);
  const ThrustLaw law(motor.nozzle, motor.propellant.gamma, motor.propellant.expansion_gamma,
                      motor.day.ambient_pressure);
  return laws_.emplace(step, law).first->second;
}

double QuickFiring::thrust(double pressure) const {
  return efficiency_ *
         ((1 - part_above_) * (*below_)(pressure) + part_above_ * (*above_)(pressure));
}

double QuickFiring::steady_peak() const {
  return ground_->chamber().pressure(greatest_area_ * strain_ * rate_);
}

double QuickFiring::peak_pressure() const {
  return std::max(ground_->motor().day.ambient_pressure, ratio_ * steady_peak());
}

// The ratio hardly goes by the burn rate: a pressure drop along the ports is one of areas.
double QuickFiring::burn_rate_for(double pressure) const {
  return ground_->chamber().area_at(pressure / ratio_) / (greatest_area_ * strain_ * warmth_);
}

Stretch QuickFiring::scaled(const Stretch& stretch) const {
  Stretch result = stretch;
  for (double& c : result.area.c) c *= strain_ * rate_;
  return result;
}

// In the chamber of the motor as drawn every moment lasts `rate_` times as long as it really does.
QuickFigures QuickFiring::figures() {
  const SteadyChamber& chamber = ground_->chamber();
  const double full_flow = std::max(below_->full_flow_pressure(), above_->full_flow_pressure());
  const auto between = [&](double below, double above) {
    return below + part_above_ * (above - below);
  };
  const double per_pressure = efficiency_ * between(below_->per_pressure(), above_->per_pressure());
  const double loss = efficiency_ * between(below_->loss(), above_->loss());
  QuickFigures figures{.peak_pressure = peak_pressure()};
  figures.peak_thrust = thrust(steady_peak());
  for (const Stretch& plain : stretches_) {
    const Stretch stretch = scaled(plain);
    visit_nodes(stretch, chamber, [&](const auto&, double pressure, double time) {
      const double push = pressure >= full_flow ? per_pressure * pressure - loss : thrust(pressure);
      figures.burn_time += time / rate_;
      figures.total_impulse += push * time / rate_;
    });
  }
  return figures;
}

Curve QuickFiring::curve(int points) {
  const SteadyChamber& chamber = ground_->chamber();
  const double throat_area = std::numbers::pi / 4 * throat_ * throat_;
  const double burnout = stretches_.back().to;
  Curve curve;
  double time = 0;
  const auto append = [&](const Stretch& stretch, double web) {
    const double pressure = chamber.pressure(stretch.area(web));
    const double area = stretch.area(web) / (strain_ * rate_);
    curve.time.push_back(time);
    curve.web.push_back(web);
    curve.burning_area.push_back(area);
    curve.kn.push_back(area / throat_area);
    curve.pressure.push_back(std::max(ground_->motor().day.ambient_pressure, ratio_ * pressure));
    curve.thrust.push_back(thrust(pressure));
  };
  for (const Stretch& stretch : stretches_) {
    Stretch step = scaled(stretch);
    const double width = stretch.to - stretch.from;
    const int steps = std::max(1, static_cast<int>(std::lround(width / burnout * (points - 1))));
    append(step, stretch.from);
    for (int i = 1; i <= steps; ++i) {
      step.to = i == steps ? stretch.to : stretch.from + width * i / steps;
      visit_nodes(step, chamber, [&](const auto&, double, double stay) { time += stay / rate_; });
      append(step, step.to);
      step.from = step.to;
    }
  }
  return curve;
}

Motor QuickFiring::motor() const {
  Motor motor = with_throat(ground_->motor(), throat_);
  motor.propellant.ideal_density *= density_;
  motor.propellant.characteristic_velocity *= characteristic_velocity_;
  motor.propellant.law = motor.propellant.law.times(rate_);
  motor.nozzle.efficiency *= efficiency_;
  return motor;
}

double QuickFiring::rail_speed(const Airframe& airframe) const {
  const Motor strayed = motor();
  const SteadyChamber chamber(strayed.propellant, strayed.nozzle, strayed.day);
  double volume = 0;
  for (const Stretch& stretch : stretches_) {
    volume += stretch.area.integral(stretch.from, stretch.to);
  }
  return rail_exit_speed(stretches_, chamber, chamber.density() * volume, airframe);
}

}  // namespace grainwright
