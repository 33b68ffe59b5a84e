// SPDX-License-Identifier: GPL-3.0-or-later
//
// One strayed motor after the other, fired fast. Burn rate, density, c*, throat and temperature
// strain the steady balance P/r(P) = density c* A/At alike, so that all of them together act as one
// factor on the burning area of the motor as drawn: its chamber serves for every draw.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <vector>

#include "carry.hpp"
#include "grainwright/firing/steady.hpp"
#include "grainwright/flight/airframe.hpp"
#include "grainwright/scatter/port_load.hpp"
#include "inputs.hpp"
#include "scene.hpp"
#include "stretches.hpp"

namespace grainwright {

/// Burnback of cores that are not plain and round: it takes milliseconds, and many mistakes and
/// threads ask for the same ones.
class Shapes {
 public:
  void fill(ScenePiece& piece);

 private:
  std::mutex busy_;
  std::vector<ScenePiece> pieces_;
};

/// What all quick firings of one motor share.
class FiringGround {
 public:
  FiringGround(const Motor& motor, std::vector<Fault> faults,
               std::shared_ptr<Shapes> shapes = std::make_shared<Shapes>());

  [[nodiscard]] const Motor& motor() const { return motor_; }
  [[nodiscard]] const SteadyChamber& chamber() const { return chamber_; }
  [[nodiscard]] const std::vector<Fault>& faults() const { return faults_; }
  /// Stays where it is as long as the ground.
  [[nodiscard]] const Scene& scene(FaultSet faults) const;
  [[nodiscard]] const Scene& as_drawn() const { return *as_drawn_; }
  /// From steady peaks to judged ones; as they are until it is set.
  [[nodiscard]] const Carry& carry() const { return carry_; }
  [[nodiscard]] Carry& carry() { return carry_; }

 private:
  struct Scenes {
    std::mutex busy;
    std::map<FaultSet, Scene> known;
  };
  [[nodiscard]] Scene made(FaultSet faults) const;

  Motor motor_;
  SteadyChamber chamber_;
  std::vector<Fault> faults_;
  std::shared_ptr<Shapes> shapes_;
  std::shared_ptr<Scenes> scenes_ = std::make_shared<Scenes>();
  const Scene* as_drawn_;
  Carry carry_;
};

/// One segment of a piece as it has strayed; its core must be plain and round.
[[nodiscard]] Segment strayed(const ScenePiece& piece, const Draw& draw);

/// What a scatter wants to know of each motor. SI. The peak pressure is the judged one, the rest is
/// of the steady firing.
struct QuickFigures {
  double peak_pressure = 0;
  double peak_thrust = 0;
  double total_impulse = 0;
  double burn_time = 0;
};

/// Working space of one thread. Relative error of the figures under 1e-6 of the steady model, save
/// that the segments of one layer stray together.
class QuickFiring {
 public:
  explicit QuickFiring(const FiringGround& ground);

  void take(const Draw& draw);
  /// By the judged model.
  [[nodiscard]] double peak_pressure() const;
  [[nodiscard]] double steady_peak() const;
  /// Judged over steady peak.
  [[nodiscard]] double ratio() const { return ratio_; }
  /// Of the busiest port (port_load.hpp), and whether it may choke before the throat.
  [[nodiscard]] double port_load() const { return port_load_; }
  [[nodiscard]] bool port_chokes() const { return port_chokes_; }
  /// The burn-rate factor above which this motor would exceed a pressure (Pa), all else as it is.
  [[nodiscard]] double burn_rate_for(double pressure) const;
  [[nodiscard]] QuickFigures figures();
  /// With about so many points. Pressures are carried like the peak, thrust is steady.
  [[nodiscard]] Curve curve(int points);
  /// At the end of the rail, m/s; 0 where it never gets there.
  [[nodiscard]] double rail_speed(const Airframe& airframe) const;
  /// The strayed propellant and nozzle with the grain as drawn.
  [[nodiscard]] Motor motor() const;

 private:
  void lay_out(const Draw& draw, const Scene& scene);
  void add_piece(const ScenePiece& piece, const Draw& draw);
  void set_throat(double diameter);
  [[nodiscard]] const ThrustLaw& law_near(long step);
  [[nodiscard]] const Scene& scene(FaultSet faults);
  [[nodiscard]] Stretch scaled(const Stretch& stretch) const;
  [[nodiscard]] double thrust(double pressure) const;

  const FiringGround* ground_;
  std::map<FaultSet, const Scene*> scenes_;
  StretchSum parts_;
  std::vector<Stretch> off_centre_;  // of one piece
  std::vector<Stretch> stretches_;
  double greatest_area_ = 0;
  double strain_ = 1;  // density, c* and throat on the load, against the motor as drawn
  double warmth_ = 1;  // of the grain, on the burn rate
  double rate_ = 1;    // burn rate, warmth included
  double efficiency_ = 1;
  double density_ = 1;
  double characteristic_velocity_ = 1;
  double throat_ = 0;
  PortLoad ports_;
  double port_load_ = 0;
  bool port_chokes_ = false;
  double ratio_ = 1;
  // Thrust laws cost more than firings; they are smooth in the throat, so that straight lines
  // between steps of a thousandth of it are good to 1e-6.
  std::map<long, ThrustLaw> laws_;
  const ThrustLaw* below_ = nullptr;
  const ThrustLaw* above_ = nullptr;
  double part_above_ = 0;
};

}  // namespace grainwright
