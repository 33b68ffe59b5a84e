// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/strength/change.hpp"

#include <algorithm>

namespace grainwright {
namespace {

constexpr int most_steps = 12;
constexpr double protection_step = 1e-3;
constexpr double bond_step = 5e-3;
constexpr double throat_step = 0.0254 / 64;
constexpr double least_help = 0.01;

/// A changed motor, and the size of the change in it.
struct Trial {
  Shell shell;
  Motor motor;
  double size = 0;
};

/// The trial after so many steps; nothing where the part cannot have it.
using Step = std::function<std::optional<Trial>(int)>;

struct Plan {
  ChangeKind kind;
  Step step;
};

Closure* closure_of(Shell& shell, const std::string& part) {
  if (part == "head closure" && shell.head) return &*shell.head;
  if (part == "nozzle seat" && shell.nozzle) return &*shell.nozzle;
  return nullptr;
}

/// Changes one closure of a copy; `change` returns the new size, or nothing.
template <class ChangeIt>
Step changing(const Shell& shell, const Motor& motor, const std::string& part, ChangeIt change) {
  return [=](int steps) -> std::optional<Trial> {
    Trial trial{shell, motor};
    Closure* closure = closure_of(trial.shell, part);
    if (closure == nullptr) return std::nullopt;
    const std::optional<double> size = change(*closure, steps);
    if (!size || !complaints(trial.shell, motor).empty()) return std::nullopt;
    trial.size = *size;
    return trial;
  };
}

Plan thicker_protection(const Shell& shell, const Motor& motor, const std::string& part,
                        const Material& spare) {
  return {
      ChangeKind::thicker_protection,
      changing(shell, motor, part, [spare](Closure& closure, int steps) -> std::optional<double> {
        if (closure.protection.empty()) {
          if (steps == 0) return 0;
          closure.protection.push_back({spare, 0});
        }
        return closure.protection.front().thickness += steps * protection_step;
      })};
}

Plan longer_bond(const Shell& shell, const Motor& motor, const std::string& part) {
  return {ChangeKind::longer_bond,
          changing(shell, motor, part, [](Closure& closure, int steps) -> std::optional<double> {
            auto* joint = std::get_if<BondedJoint>(&closure.joint);
            if (joint == nullptr) return std::nullopt;
            joint->length += steps * bond_step;
            closure.thickness = std::max(closure.thickness, joint->starts + joint->length);
            return joint->length;
          })};
}

Plan more_pins(const Shell& shell, const Motor& motor, const std::string& part) {
  return {ChangeKind::more_pins,
          changing(shell, motor, part, [](Closure& closure, int steps) -> std::optional<double> {
            if (auto* pins = std::get_if<PinnedJoint>(&closure.joint)) return pins->count += steps;
            if (auto* holes = std::get_if<HoleJoint>(&closure.joint)) return holes->count += steps;
            return std::nullopt;
          })};
}

Plan larger_throat(const Shell& shell, const Motor& motor, std::vector<double> throats) {
  const double now = motor.nozzle.throat_diameter;
  std::erase_if(throats, [now](double throat) { return throat <= now * (1 + 1e-9); });
  std::ranges::sort(throats);
  while (throats.size() < most_steps) {
    throats.push_back((throats.empty() ? now : throats.back()) + throat_step);
  }
  throats.insert(throats.begin(), now);
  return {ChangeKind::larger_throat, [=](int steps) -> std::optional<Trial> {
            const auto i = static_cast<std::size_t>(steps);
            if (i >= throats.size()) return std::nullopt;
            return Trial{shell, with_throat(motor, throats[i]), throats[i]};
          }};
}

double ratio_of(const Margins& margins, const std::string& part) {
  const auto found = std::ranges::find(margins.parts, part, &PartMargin::part);
  return found->weakest().ratio;
}

/// Goes on step by step until the part has its factor or the change can go no further.
std::optional<Change> tried(const Plan& plan, const std::string& part, double ratio_now,
                            const std::vector<Curve>& curves_now, const Fire& fire) {
  const auto begin = plan.step(0);
  if (!begin) return std::nullopt;
  Change change{
      .kind = plan.kind, .part = part, .from = begin->size, .to = begin->size, .gives_first = {}};
  for (int steps = 1; steps <= most_steps; ++steps) {
    const auto trial = plan.step(steps);
    if (!trial) break;
    const auto curves = plan.kind == ChangeKind::larger_throat ? fire(trial->motor) : curves_now;
    if (!curves) break;
    const Margins margin = margins_over(trial->shell, trial->motor, *curves).margins;
    change.to = trial->size;
    change.part_ratio = ratio_of(margin, part);
    change.motor_ratio = margin.ratio();
    change.gives_first = margin.weakest().part;
    if (change.part_ratio >= margin.factor) break;
  }
  if (change.to == change.from) return std::nullopt;
  change.helps = change.part_ratio >= ratio_now * (1 + least_help);
  return change;
}

}  // namespace

Motor with_throat(Motor motor, double throat_diameter) {
  motor.nozzle = motor.nozzle.drilled_to(throat_diameter);
  motor.nozzle.exit_diameter = std::max(motor.nozzle.exit_diameter, throat_diameter);
  return motor;
}

std::vector<Change> tried_changes(const Shell& shell, const Motor& motor, const Margins& now,
                                  const Fire& fire, const ChangeOptions& options) {
  const auto curves = fire(motor);
  std::vector<Change> changes;
  if (!curves) return changes;
  for (const PartMargin& part : now.parts) {
    const double ratio = part.weakest().ratio;
    if (ratio >= now.factor && &part != &now.parts.front()) break;
    for (const Plan& plan :
         {thicker_protection(shell, motor, part.part, options.spare),
          longer_bond(shell, motor, part.part), more_pins(shell, motor, part.part),
          larger_throat(shell, motor, options.throats)}) {
      const auto change = tried(plan, part.part, ratio, *curves, fire);
      if (change) changes.push_back(*change);
    }
  }
  std::ranges::stable_sort(changes, {}, &Change::kind);
  return changes;
}

std::optional<double> smallest_throat(const Shell& shell, const Motor& motor,
                                      std::vector<double> throats, const Fire& fire) {
  std::ranges::sort(throats);
  for (double throat : throats) {
    const Motor changed = with_throat(motor, throat);
    const auto curves = fire(changed);
    if (curves && margins_over(shell, changed, *curves).margins.hold()) return throat;
  }
  return std::nullopt;
}

}  // namespace grainwright
