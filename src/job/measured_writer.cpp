// SPDX-License-Identifier: GPL-3.0-or-later
//
// A measured law is put into a job by changing the text where it must change, and nowhere else.
#include <fmt/format.h>
#include <algorithm>
#include <limits>

#include "edit.hpp"
#include "grainwright/job/job.hpp"

namespace grainwright {
namespace {

constexpr int digits = 5;  // more would say more than a stand knows

std::string in_quotes(std::string_view text) {
  std::string result = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') result += '\\';
    if (static_cast<unsigned char>(c) < 32) {
      result += fmt::format("\\u{:04X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    } else {
      result += c;
    }
  }
  return result + '"';
}

std::string rounded(double value) {
  return fmt::format("{:.{}g}", value, digits);
}

std::string line_of(const LawPiece& piece) {
  std::string line =
      fmt::format("{{ rate = \"{} mm/s\", at = \"{} MPa\", n = {}", rounded(piece.rate * 1e3),
                  rounded(piece.at / 1e6), rounded(piece.exponent));
  // Ends stay as they are to the last digit: pieces meet there.
  if (piece.from > 0)
    line += ", from = " + in_quotes(write_quantity(piece.from, Dimension::pressure));
  if (piece.to < std::numeric_limits<double>::infinity())
    line += ", to = " + in_quotes(write_quantity(piece.to, Dimension::pressure));
  return line + " }";
}

std::string law_text(std::span<const LawPiece> law) {
  if (law.size() == 1) return '[' + line_of(law.front()) + ']';
  std::string text = "[\n";
  for (const LawPiece& piece : law) text += "  " + line_of(piece) + ",\n";
  return text + "]";
}

/// "key = value" of what is known.
std::vector<std::string> lines_of(const Measured& known) {
  std::vector<std::string> logs;
  for (const std::string& log : known.logs) logs.push_back(in_quotes(log));
  std::vector<std::string> lines = {"date = " + in_quotes(known.date),
                                    fmt::format("logs = [{}]", fmt::join(logs, ", "))};
  if (known.at > 0) lines.push_back(fmt::format("at = \"{} MPa\"", rounded(known.at / 1e6)));
  lines.push_back("rate_error = " + rounded(known.rate_error));
  const auto add = [&](std::string_view key, double value) {
    if (value != 0) lines.push_back(fmt::format("{} = {}", key, rounded(value)));
  };
  add("n_error", known.n_error);
  add("correlation", known.correlation);
  add("efficiency_error", known.efficiency_error);
  add("characteristic_velocity_error", known.characteristic_velocity_error);
  if (!known.doubtful.empty()) lines.push_back("doubtful = " + in_quotes(known.doubtful));
  return lines;
}

/// Takes headed tables out of the text, each with the empty lines above it.
void remove_tables(Edit& edit, const std::vector<Node>& tables) {
  for (const Node& table : tables) {
    edit.remove_lines(edit.first_blank_above(table.begin.line), table.begin.line);
    for (const Entry& entry : table.entries) {
      edit.remove_lines(entry.begin.line, entry.value.end.line);
    }
  }
}

void set_law(Edit& edit, const Node& document, std::span<const LawPiece> law) {
  const Node* old = value_at(document, "propellant", "law");
  const bool headed = old != nullptr && !old->items.empty() && !old->items.front().in_braces;
  if (!headed) return set(edit, document, "propellant", "law", law_text(law));
  remove_tables(edit, old->items);
  const int line = document.find("propellant")->value.begin.line;
  edit.insert_line(line + 1, "law = " + law_text(law));
}

/// Sets a table of the propellant, where and how it stands, else at the end.
void set_table(Edit& edit, const Node& document, const std::string& name,
               const std::vector<std::string>& lines) {
  const Node* old = value_at(document, "propellant", name);
  const Entry* propellant = document.find("propellant");
  if ((old != nullptr && old->in_braces) || propellant->value.in_braces) {
    return set(edit, document, "propellant", name, fmt::format("{{ {} }}", fmt::join(lines, ", ")));
  }
  if (old != nullptr) remove_tables(edit, {*old});
  edit.append(fmt::format("[propellant.{}]\n{}", name, fmt::join(lines, "\n")));
}

std::vector<std::string> lines_of(const WebFactor& factor) {
  return {"start = " + rounded(factor.start), "middle = " + rounded(factor.middle),
          "end = " + rounded(factor.end)};
}

}  // namespace

std::string with_measured(std::string_view job_text, const Propellant& propellant,
                          double efficiency) {
  const std::string name = "job";
  const Job job = parse_job(job_text, name);
  if (!job.propellant || !job.nozzle || !propellant.measured) {
    throw InputError("propellant", "missing", "a job with [propellant] and [nozzle]");
  }
  const Node document = parse_document(job_text, name);
  Edit edit(job_text);
  set_law(edit, document, propellant.law.pieces());
  const double c_star = propellant.characteristic_velocity;
  if (c_star != job.propellant->characteristic_velocity) {
    set(edit, document, "propellant", "characteristic_velocity",
        in_quotes(rounded(c_star) + " m/s"));
  }
  if (propellant.density_ratio != job.propellant->density_ratio) {
    set(edit, document, "propellant", "density_ratio", rounded(propellant.density_ratio));
  }
  if (efficiency != job.nozzle->efficiency) {
    set(edit, document, "nozzle", "efficiency", rounded(efficiency));
  }
  set_table(edit, document, "measured", lines_of(*propellant.measured));
  if (propellant.web_factor && propellant.web_factor != job.propellant->web_factor) {
    set_table(edit, document, "web_factor", lines_of(*propellant.web_factor));
  }
  std::string text = edit.done();
  static_cast<void>(parse_job(text, name));  // throws where the two do not fit together
  return text;
}

}  // namespace grainwright
