// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "drawing.hpp"
#include "numbers.hpp"
#include "stand_result.hpp"
#include "words.hpp"

namespace grainwright::cli {
namespace {

std::string lines_named(const FaultCount& fault) {
  std::string words = fault.lines.size() == 1 ? "line " : "lines ";
  for (std::size_t i = 0; i < fault.lines.size(); ++i) {
    if (i > 0) words += ", ";
    words += std::to_string(fault.lines[i]);
    if (fault.columns[i] > 0) words += fmt::format(" column {}", fault.columns[i]);
  }
  if (fault.count > fault.lines.size()) words += ", ...";
  return words;
}

void tell_log(Page& page, const LogTold& told) {
  page.heading("Log " + std::filesystem::path(told.file).filename().string());
  page.paragraph(fmt::format("Read as: {}.", told.log.layout));
  page.paragraph(fmt::format(
      "{} below the header, {} left out.", counted(static_cast<long long>(told.log.rows), "row"),
      told.log.rows - told.used == 0 ? "none" : std::to_string(told.log.rows - told.used)));
  for (std::size_t i = 0; i < row_faults; ++i) {
    const FaultCount& fault = told.log.faults[i];
    if (fault.count == 0) continue;
    page.item("- ", fmt::format("{}: {} ({})", counted(static_cast<long long>(fault.count), "row"),
                                words_for(static_cast<RowFault>(i)), lines_named(fault)));
  }
}

void tell_cleaning(Page& page, const Trace& trace, UnitSystem units) {
  using enum Dimension;
  page.heading("From reading to thrust");
  Table table{.align = "ll"};
  const auto row = [&](std::string name, std::string value) {
    table.rows.push_back({std::move(name), std::move(value)});
  };
  row("ignition", show(trace.ignition, time, units) + " of the log; times below are from it");
  row("reading at rest",
      fmt::format("{}, from {} before ignition; noise {}", show(trace.tare, force, units),
                  counted(static_cast<long long>(trace.quiet_before), "row"),
                  show(trace.noise, force, units, 3)));
  row("drift over the firing",
      trace.quiet_after > 0 ? show(trace.drift, force, units, 3) + ", taken off as a straight line"
                            : "not known");
  if (trace.weight_change != 0) {
    row("weight of propellant burned",
        show(std::abs(trace.weight_change), force, units, 3) + ", given back as impulse is made");
  }
  if (trace.reversed) row("sign", "thrust reads negative, and is turned");
  row("rows", fmt::format("every {:.3g} ms; {} set aside as spikes{}", trace.step * 1e3,
                          trace.spikes.count == 0 ? "none" : std::to_string(trace.spikes.count),
                          trace.spikes.count == 0 ? "" : " (" + lines_named(trace.spikes) + ")"));
  page.table(table);
  for (const LogGap& gap : trace.gaps) {
    page.item("- ",
              fmt::format("gap of {:.3g} ms at {}, before line {}: bridged by a straight line",
                          gap.length * 1e3, show(gap.time, time, units), gap.line));
  }
}

std::string plus_minus(const WithError& figure, Dimension dimension, UnitSystem units) {
  const std::string value = show(figure.value, dimension, units);
  if (figure.error <= 0) return value;
  return fmt::format("{}, plus or minus {}", value, show(figure.error, dimension, units, 2));
}

void tell_figures(Page& page, const StandFigures& f, UnitSystem units) {
  using enum Dimension;
  page.heading("Figures (plus or minus one standard deviation)");
  Table table{.align = "lll"};
  const auto row = [&](std::string name, std::string value, std::string meaning) {
    table.rows.push_back({std::move(name), std::move(value), std::move(meaning)});
  };
  row("burning time", show(f.burning_time, time, units), "10 % of peak to aft tangent bisector");
  row("action time", show(f.action_10.length(), time, units), "first to last 10 % of peak");
  row("", show(f.action_5.length(), time, units), "first to last 5 % of peak");
  row("rise", fmt::format("{:.3g} ms", f.rise_time * 1e3), "10 to 90 % of the early thrust");
  row("total impulse", plus_minus(f.total_impulse, impulse, units), "ignition to rest");
  row("", plus_minus(f.action_impulse_10, impulse, units), "within the 10 % action time");
  row("", plus_minus(f.action_impulse_5, impulse, units), "within the 5 % action time");
  row("peak thrust", plus_minus(f.peak_thrust, force, units), "greatest row");
  row("mean thrust", plus_minus(f.mean_thrust, force, units), "over the burning time");
  row("letter class",
      fmt::format("{}, {} of the way through", f.letter_class, percent(f.share_of_class)),
      "by total impulse");
  if (f.specific_impulse) {
    row("specific impulse", plus_minus(*f.specific_impulse, time, units), "of weighed propellant");
  }
  if (f.peak_pressure) {
    row("peak pressure", show(*f.peak_pressure, pressure, units), "absolute");
    row("mean pressure", show(*f.mean_pressure, pressure, units), "over the burning time");
  }
  if (f.characteristic_velocity) {
    row("c*, delivered", plus_minus(*f.characteristic_velocity, speed, units),
        "pressure over the action time, propellant");
  }
  page.table(table);
  page.paragraph(
      "The bisector is that of the angle between the tangents to the level before tail-off and to "
      "the tail-off, with time over the 10 % action time and thrust over its peak as axes.");
}

void tell_comparison(Page& page, const Comparison& comparison, UnitSystem units) {
  page.heading("Measured against predicted");
  Table table{.align = "lrrrrl",
              .head = {"", "measured", "predicted", "band from", "to", "measured / predicted"}};
  for (const Compared& one : comparison.figures_compared) {
    const auto cells =
        column({one.measured, one.predicted, one.low, one.high}, one.dimension, units);
    table.rows.push_back({head(one.name, one.dimension, units), cells[0], cells[1], cells[2],
                          cells[3],
                          fmt::format("{:.3f}, {}", one.ratio(),
                                      one.within() ? "within the band" : "OUT of the band")});
  }
  page.table(table);
  page.paragraph(
      fmt::format("The band is the prediction, 1.96 standard deviations either way: {} of "
                  "burn rate, {} of nozzle efficiency.",
                  percent(comparison.rate_error), percent(comparison.efficiency_error)));
  page.gap();
  Table tenths{.align = "rrrr",
               .head = {"tenth of the burn", head("measured", Dimension::force, units),
                        head("predicted", Dimension::force, units),
                        head("residual", Dimension::force, units)}};
  for (std::size_t i = 0; i < comparison.tenths.size(); ++i) {
    const Tenth& tenth = comparison.tenths[i];
    const auto cells =
        column({tenth.measured, tenth.predicted, tenth.residual}, Dimension::force, units);
    tenths.rows.push_back({std::to_string(i + 1), cells[0], cells[1], cells[2]});
  }
  page.table(tenths);
  page.paragraph(
      "Mean thrust in each tenth of the action time, each firing over its own; the residual is "
      "measured less predicted at the same moments.");
  page.heading("What the shape points to (hints, by common practice)");
  if (comparison.hints.empty()) page.paragraph("Nothing: rise, shape and tail are as predicted.");
  for (const Hint& hint : comparison.hints) {
    page.item("- ", fmt::format("{} Suspect: {}.", hint.sign, hint.suspect));
  }
}

void tell_ellipse(Page& page, const Fit& fit, UnitSystem units) {
  page.paragraph(fmt::format(
      "At this pressure the two errors are independent. With 95 % confidence both lie in an "
      "ellipse "
      "with half axes of {} and {:.2g}; away from this pressure the rate is less certain.",
      show(ellipse_factor * fit.rate.error, Dimension::speed, units, 2),
      ellipse_factor * fit.n.error));
}

void tell_web(Page& page, const Fit& fit, UnitSystem units) {
  page.paragraph(fit.web_words);
  if (!fit.web_factor) return;
  std::vector<double> share, factor;
  for (int i = 0; i <= 40; ++i) {
    share.push_back(i / 40.0);
    factor.push_back((*fit.web_factor)(i / 40.0));
  }
  page.drawing(drawn({"share of the web", Dimension::ratio, share},
                     {"rate over the law's", Dimension::ratio, factor}, units, utf8_locale()));
}

/// What the errors allow for, with its numbers.
std::string trusted_words(const FitOptions& trusted, const Fit& fit, std::size_t logs,
                          UnitSystem units) {
  std::string words = fmt::format(
      "The errors allow for a load cell off by {}, a throat by {}, a clock by {}, a lag of {:.2g} "
      "ms, a model off by {} of peak thrust",
      percent(trusted.scale_error), show(trusted.throat_error, Dimension::length, units, 2),
      percent(trusted.clock_error), trusted.lag_error * 1e3, percent(trusted.model_error));
  if (!fit.c_star_fitted) words += fmt::format(", a c* by {}", percent(trusted.c_star_error));
  if (!fit.n_fitted) words += fmt::format(", an exponent by {:.2g}", trusted.n_error);
  if (!fit.web_fitted)
    words += fmt::format(", a rate along the web by {}", percent(trusted.web_error));
  if (logs > 1)
    words += fmt::format(", a rate from firing to firing by {}", percent(trusted.batch_error));
  return words + " (each one standard deviation; common practice, no source).";
}

void tell_round_trip(Page& page, const RoundTrip& trip, UnitSystem units) {
  page.heading("Fired again with this law");
  Table table{.align = "lrrr", .head = {"", "measured", "fired", "fired / measured"}};
  for (const Compared& one : trip.figures) {
    const auto cells = column({one.measured, one.predicted}, one.dimension, units);
    table.rows.push_back(
        {head(one.name, one.dimension, units), cells[0], cells[1],
         fmt::format("{:.3f}{}", one.predicted / one.measured, one.within() ? "" : ", TOO FAR")});
  }
  page.table(table);
  page.paragraph(fmt::format("At most {} either way is taken.", percent(trip.allowed)));
}

void tell_fit(Page& page, const Fit& fit, const FitOptions& trusted, std::size_t logs,
              UnitSystem units) {
  using enum Dimension;
  page.heading("Burn law that this implies");
  Table table{.align = "ll"};
  const auto row = [&](std::string name, std::string value) {
    table.rows.push_back({std::move(name), std::move(value)});
  };
  const bool of_log = logs > 0;
  const double rate_error = fit.rate.error / fit.rate.value;
  row("rate at " + show(fit.at, pressure, units),
      fmt::format("{}, plus or minus {} by {}", show(fit.rate.value, speed, units),
                  percent(rate_error),
                  of_log ? "log and instruments" : "the errors of peak and time"));
  row("rate of the next firing",
      "plus or minus " + percent(std::hypot(rate_error, firing_to_firing)));
  row("exponent",
      fit.n_fitted
          ? fmt::format("{:.4f}, plus or minus {:.2g}", fit.n.value, fit.n.error)
          : fmt::format(
                "{:.4g}, held{}", fit.n.value,
                fit.n.error > 0 ? fmt::format("; taken as known to {:.2g}", fit.n.error) : ""));
  row("nozzle efficiency", fit.efficiency_fitted
                               ? plus_minus(fit.efficiency, ratio, units)
                               : show(fit.efficiency.value, ratio, units) + ", held");
  row("c*", fit.c_star_fitted ? plus_minus(fit.characteristic_velocity, speed, units)
                              : show(fit.characteristic_velocity.value, speed, units) +
                                    ", held: thrust alone cannot tell it from efficiency");
  // Two numbers are met by two values: nothing is left of them.
  if (of_log) row("left over", fmt::format("{} of peak thrust, RMS", percent(fit.misfit)));
  page.table(table);
  page.paragraph(fit.n_words);
  if (fit.n_fitted) tell_ellipse(page, fit, units);
  if (of_log) tell_web(page, fit, units);
  if (of_log) page.paragraph(trusted_words(trusted, fit, logs, units));
  page.paragraph(fmt::format(
      "Least squares of the transient firing against {}. Errors are one standard deviation. One "
      "log knows nothing of the next batch: --save "
      "adds {} to each, in quadrature.",
      logs == 0 ? "the peak and the time" : counted(static_cast<long long>(logs), "log"),
      percent(firing_to_firing)));
}

void tell_curve(Page& page, const Trace& trace, UnitSystem units) {
  const Beside rows = beside(trace, nullptr, nullptr, 400);
  std::vector<double> time = {0};
  std::vector<double> thrust = {0};
  for (std::size_t i = 0; i < rows.time.size(); ++i) {
    if (rows.time[i] <= 0) continue;
    time.push_back(rows.time[i]);
    thrust.push_back(std::max(0.0, rows.thrust[i]));
  }
  page.gap();
  page.drawing(drawn({"time", Dimension::time, time}, {"measured thrust", Dimension::force, thrust},
                     units, utf8_locale()));
}

}  // namespace

std::vector<std::string> remarks_of(const StandResult& result) {
  std::vector<std::string> remarks = result.remarks;
  const auto take = [&](const std::vector<std::string>& more) {
    remarks.insert(remarks.end(), more.begin(), more.end());
  };
  if (result.trace) take(result.trace->remarks);
  if (result.figures) take(result.figures->remarks);
  if (result.fit) take(result.fit->remarks);
  return remarks;
}

Page stand_page(const Job* job, const StandResult& result, UnitSystem units) {
  Page page;
  page.heading(job != nullptr ? title_of("Stand", *job) : "Stand");
  if (!result.doubts.empty()) {
    page.heading("DOUBTFUL: no law is to be learnt from this");
    for (const Doubt& doubt : result.doubts) page.item("- ", doubt.words);
  }
  for (const LogTold& told : result.logs) tell_log(page, told);
  if (result.trace) {
    tell_cleaning(page, *result.trace, units);
    tell_figures(page, *result.figures, units);
    tell_curve(page, *result.trace, units);
  }
  if (result.seen) {
    page.heading("Seen");
    page.paragraph(fmt::format("Peak thrust {}, {} between the first and the last 10 % of it.",
                               show(result.seen->peak_thrust, Dimension::force, units),
                               show(result.seen->time, Dimension::time, units)));
  }
  if (result.comparison) tell_comparison(page, *result.comparison, units);
  if (result.fit) {
    tell_fit(page, *result.fit, result.trusted, result.logs.size(), units);
    if (!result.trips.empty()) tell_round_trip(page, result.trips.front(), units);
  }
  tell_remarks(page, remarks_of(result));
  return page;
}

}  // namespace grainwright::cli
