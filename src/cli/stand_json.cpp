// SPDX-License-Identifier: GPL-3.0-or-later
#include "stand_result.hpp"

namespace grainwright::cli {
namespace {

// Rows of a curve are thinned to this for JSON.
constexpr std::size_t curve_rows = 500;

Json json_of(const WithError& figure) {
  return {{"value", figure.value}, {"error", figure.error}};
}

Json json_of(const LogTold& told) {
  Json faults = Json::array();
  for (std::size_t i = 0; i < row_faults; ++i) {
    const FaultCount& fault = told.log.faults[i];
    if (fault.count == 0) continue;
    faults.push_back({{"fault", words_for(static_cast<RowFault>(i))},
                      {"rows", fault.count},
                      {"first_lines", fault.lines},
                      {"first_columns", fault.columns}});
  }
  return {{"file", told.file},
          {"layout", told.log.layout},
          {"rows", told.log.rows},
          {"used", told.used},
          {"faults", faults}};
}

Json json_of(const Trace& trace) {
  Json gaps = Json::array();
  for (const LogGap& gap : trace.gaps) {
    gaps.push_back({{"time_s", gap.time}, {"length_s", gap.length}, {"line", gap.line}});
  }
  return {{"remarks", trace.remarks},
          {"ignition_s", trace.ignition},
          {"tare_N", trace.tare},
          {"noise_N", trace.noise},
          {"drift_N", trace.drift},
          {"weight_change_N", trace.weight_change},
          {"reversed", trace.reversed},
          {"spikes", {{"rows", trace.spikes.count}, {"first_lines", trace.spikes.lines}}},
          {"gaps", gaps},
          {"clipped_rows", trace.clipped}};
}

Json json_of(const WebFactor& factor) {
  return {{"start", factor.start}, {"middle", factor.middle}, {"end", factor.end}};
}

Json json_of(const Fit& fit) {
  return {{"rate_m_s", fit.rate.value},
          {"at_Pa", fit.at},
          {"n", fit.n.value},
          {"n_fitted", fit.n_fitted},
          {"n_error", fit.n.error},
          {"rate_error", fit.rate.error / fit.rate.value},
          {"efficiency", fit.efficiency.value},
          {"efficiency_fitted", fit.efficiency_fitted},
          {"characteristic_velocity_m_s", fit.characteristic_velocity.value},
          {"characteristic_velocity_fitted", fit.c_star_fitted},
          {"parameters",
           {"ln rate", "n", "ln efficiency", "ln characteristic velocity", "web start", "web end"}},
          {"covariance", fit.covariance},
          {"misfit", fit.misfit},
          {"words", fit.n_words},
          {"web_fitted", fit.web_fitted},
          {"web_factor", json_of(fit.web_factor.value_or(WebFactor{}))},
          {"web_words", fit.web_words},
          {"remarks", fit.remarks}};
}

Json json_of(const RoundTrip& trip) {
  Json figures = Json::object();
  for (const Compared& one : trip.figures) {
    figures[one.name] = {{"measured", one.measured}, {"fired", one.predicted}};
  }
  return {{"figures", figures}, {"allowed", trip.allowed}, {"met", trip.met()}};
}

Json json_of(const FitOptions& trusted) {
  return {{"scale_error", trusted.scale_error},
          {"pressure_error", trusted.pressure_error},
          {"throat_error_m", trusted.throat_error},
          {"clock_error", trusted.clock_error},
          {"lag_error_s", trusted.lag_error},
          {"characteristic_velocity_error", trusted.c_star_error},
          {"n_error", trusted.n_error},
          {"web_error", trusted.web_error},
          {"batch_error", trusted.batch_error},
          {"model_error", trusted.model_error}};
}

Json json_of(const Comparison& comparison) {
  Json figures = Json::object();
  for (const Compared& one : comparison.figures_compared) {
    figures[one.name] = {{"measured", one.measured},
                         {"predicted", one.predicted},
                         {"band", {one.low, one.high}},
                         {"ratio", one.ratio()}};
  }
  Json tenths = Json::array();
  for (const Tenth& tenth : comparison.tenths) {
    tenths.push_back({{"measured_N", tenth.measured},
                      {"predicted_N", tenth.predicted},
                      {"residual_N", tenth.residual}});
  }
  Json hints = Json::array();
  for (const Hint& hint : comparison.hints) {
    hints.push_back({{"sign", hint.sign}, {"suspect", hint.suspect}});
  }
  return {{"rate_error", comparison.rate_error},
          {"figures", figures},
          {"tenths", tenths},
          {"hints", hints}};
}

void add_figures(Json& json, const StandFigures& f) {
  json["burning_time_s"] = f.burning_time;
  json["action_time_s"] = f.action_10.length();
  json["action_time_5_s"] = f.action_5.length();
  json["total_impulse_Ns"] = f.total_impulse.value;
  json["action_impulse_Ns"] = f.action_impulse_10.value;
  json["action_impulse_5_Ns"] = f.action_impulse_5.value;
  json["peak_thrust_N"] = f.peak_thrust.value;
  json["mean_thrust_N"] = f.mean_thrust.value;
  json["letter_class"] = f.letter_class;
  json["share_of_class"] = f.share_of_class;
  json["rise_time_s"] = f.rise_time;
  json["tail_off_s"] = f.tail_off;
  json["errors"] = {{"total_impulse_Ns", f.total_impulse.error},
                    {"peak_thrust_N", f.peak_thrust.error},
                    {"mean_thrust_N", f.mean_thrust.error}};
  if (f.specific_impulse) json["specific_impulse_s"] = json_of(*f.specific_impulse);
  if (f.characteristic_velocity) {
    json["characteristic_velocity_m_s"] = json_of(*f.characteristic_velocity);
  }
  if (f.peak_pressure) json["peak_pressure_Pa"] = *f.peak_pressure;
  if (f.mean_pressure) json["mean_pressure_Pa"] = *f.mean_pressure;
}

}  // namespace

std::vector<Column> columns_of(const Beside& rows) {
  std::vector<Column> columns = {{"time_s", rows.time}, {"thrust_N", rows.thrust}};
  const std::pair<const char*, const std::vector<double>*> others[] = {
      {"predicted_thrust_N", &rows.predicted_thrust},
      {"fitted_thrust_N", &rows.fitted_thrust},
      {"pressure_Pa", &rows.pressure},
      {"predicted_pressure_Pa", &rows.predicted_pressure},
      {"fitted_pressure_Pa", &rows.fitted_pressure}};
  for (const auto& [name, values] : others) {
    if (!values->empty()) columns.push_back({name, *values});
  }
  return columns;
}

Json json_of(const StandResult& result, bool saved) {
  Json stand = Json::object();
  if (result.figures) add_figures(stand, *result.figures);
  if (result.fit) stand["fit"] = json_of(*result.fit);
  if (result.comparison) stand["comparison"] = json_of(*result.comparison);
  Json logs = Json::array();
  for (const LogTold& told : result.logs) logs.push_back(json_of(told));
  Json doubts = Json::array();
  for (const Doubt& doubt : result.doubts) {
    doubts.push_back({{"doubt", words_for(doubt.kind)}, {"words", doubt.words}});
  }
  Json trips = Json::array();
  for (const RoundTrip& trip : result.trips) trips.push_back(json_of(trip));
  Json json = {{"stand", stand}, {"logs", logs},        {"doubts", doubts},
               {"saved", saved}, {"round_trip", trips}, {"trusted", json_of(result.trusted)}};
  if (result.trace) json["cleaning"] = json_of(*result.trace);
  json["remarks"] = remarks_of(result);
  if (result.trace) {
    const Beside rows = beside(*result.trace, result.comparison ? &*result.comparison : nullptr,
                               result.fit ? &*result.fit : nullptr, curve_rows);
    json["curve"] = cli::json_of(columns_of(rows));
  }
  return json;
}

}  // namespace grainwright::cli
