// SPDX-License-Identifier: GPL-3.0-or-later
#include "layout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <optional>

#include "grainwright/error.hpp"
#include "grainwright/motor/gas.hpp"
#include "grainwright/quantity.hpp"

namespace grainwright {
namespace {

/// What is read as the words of a header's cell: "Thrust [lbf]" as "thrust", "lbf".
std::vector<std::string> words_of(std::string_view cell) {
  std::vector<std::string> words(1);
  for (const char c : cell) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalnum(byte) != 0 || byte >= 0x80U) {
      words.back() += c;
    } else if (!words.back().empty()) {
      words.emplace_back();
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
}

std::string lower(std::string text) {
  std::ranges::transform(text, text.begin(), [](unsigned char c) { return std::tolower(c); });
  return text;
}

bool names_any(const std::vector<std::string>& words, std::initializer_list<const char*> known) {
  return std::ranges::any_of(words, [&](const std::string& word) {
    return std::ranges::find(known, lower(word)) != known.end();
  });
}

std::optional<double> factor_of(const std::string& unit, Dimension dimension) {
  try {
    return read_quantity("1 " + unit, dimension);
  } catch (const InputError&) {
    return std::nullopt;
  }
}

std::optional<double> force_factor(const std::string& unit) {
  if (const auto force = factor_of(unit, Dimension::force)) return force;
  if (const auto mass = factor_of(unit, Dimension::mass)) return *mass * standard_gravity;
  return std::nullopt;
}

std::optional<double> time_factor(const std::string& unit) {
  return factor_of(unit, Dimension::time);
}

std::optional<double> pressure_factor(const std::string& unit) {
  return factor_of(unit, Dimension::pressure);
}

/// What a log's column can hold.
struct Role {
  std::string name;    ///< "time"
  std::string column;  ///< fields of LogFormat
  std::string unit;
  std::string per_count;
  std::string example;
  std::optional<double> (*factor)(const std::string& unit);
  std::initializer_list<const char*> names;
};
const Role time_role{"time",
                     "time_column",
                     "time_unit",
                     "sample_rate",
                     "s, ms or samples",
                     time_factor,
                     {"time", "t", "elapsed", "timestamp", "seconds", "millis"}};
const Role force_role{"force",
                      "force_column",
                      "force_unit",
                      "force_per_count",
                      "N, lbf, kgf, kg or counts",
                      force_factor,
                      {"force", "thrust", "load", "weight", "newtons", "cell"}};
const Role pressure_role{"pressure",
                         "pressure_column",
                         "pressure_unit",
                         "pressure_per_count",
                         "MPa, psi, bar or counts",
                         pressure_factor,
                         {"pressure", "chamber", "press"}};

/// The unit that a header's cell names in its last word, if it is one of the role's.
std::optional<std::string> unit_in(std::string_view cell, const Role& role) {
  const std::vector<std::string> words = words_of(cell);
  if (words.empty()) return std::nullopt;
  if (names_any({words.back()}, {"counts", "count", "raw", "adc"})) return "counts";
  if (words.size() > 1 && role.factor(words.back())) return words.back();
  if (names_any({words.back()}, {"seconds", "sec"})) return "s";
  if (names_any({words.back()}, {"millis", "msec"})) return "ms";
  if (names_any({words.back()}, {"newtons"})) return "N";
  return std::nullopt;
}

/// The first lines of a log, as a table.
struct Head {
  const std::string& name;
  std::vector<std::string> titles;  ///< empty without a header
  int line = 0;                     ///< of the file, where the header ends; 0 without
  std::size_t width = 0;
  std::vector<std::vector<double>> rows;  ///< of the first lines, those that are whole
};

[[noreturn]] void ask(const Head& head, const std::string& field, const std::string& given,
                      const std::string& allowed, std::size_t column = no_column) {
  const int place = column == no_column ? 0 : static_cast<int>(column) + 1;
  throw InputError({Complaint{field, given, allowed, {head.name, head.line, place}}});
}

std::string columns_in_words(const Head& head) {
  if (head.titles.empty()) return fmt::format("columns 1 to {}, without a header", head.width);
  return fmt::format("columns {}", fmt::join(head.titles, ", "));
}

/// The column that was asked for by name or number; no_column for "none".
std::size_t asked_column(const Head& head, const std::string& wanted, const Role& role) {
  if (wanted == "none") return no_column;
  const auto title = std::ranges::find(head.titles, wanted);
  if (title != head.titles.end()) return static_cast<std::size_t>(title - head.titles.begin());
  std::size_t number = 0;
  const char* end = wanted.data() + wanted.size();
  const auto [stopped, problem] = std::from_chars(wanted.data(), end, number);
  if (problem == std::errc{} && stopped == end && number >= 1 && number <= head.width) {
    return number - 1;
  }
  ask(head, role.column, wanted, "one of " + columns_in_words(head) + ", by name or number");
}

std::vector<std::size_t> titled(const Head& head, const Role& role) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < head.titles.size(); ++i) {
    if (names_any(words_of(head.titles[i]), role.names)) found.push_back(i);
  }
  return found;
}

bool rises(const Head& head, std::size_t column) {
  const auto falls = [&](const auto& a, const auto& b) { return !(a[column] < b[column]); };
  return head.rows.size() > 2 && std::ranges::adjacent_find(head.rows, falls) == head.rows.end();
}

/// "n" alone, or "sample no."; not the unit of "force (N)".
bool numbers_samples(std::string_view title) {
  const std::vector<std::string> words = words_of(title);
  return !words.empty() && names_any({words.front()}, {"sample", "samples", "index", "n"});
}

std::size_t time_column(const Head& head, const LogFormat& format) {
  if (format.time_column) return asked_column(head, *format.time_column, time_role);
  const auto named = titled(head, time_role);
  if (named.size() == 1) return named.front();
  const auto numbered = [&] {
    for (std::size_t i = 0; i < head.titles.size(); ++i) {
      if (numbers_samples(head.titles[i])) return i;
    }
    return no_column;
  }();
  if (numbered != no_column && named.empty()) return numbered;
  if (head.width == 1) return no_column;
  if (head.titles.empty() && rises(head, 0) && !(head.width == 2 && rises(head, 1))) return 0;
  ask(head, time_role.column,
      fmt::format("not given, and not certain from the {}", columns_in_words(head)),
      "the column of time, by name or number; none with a sample rate");
}

std::size_t force_column(const Head& head, const LogFormat& format, std::size_t time) {
  if (format.force_column) return asked_column(head, *format.force_column, force_role);
  const auto named = titled(head, force_role);
  if (named.size() == 1) return named.front();
  if (head.width == 1) return 0;
  if (head.width == 2 && time != no_column) return 1 - time;
  ask(head, force_role.column,
      fmt::format("not given, and not certain from the {}", columns_in_words(head)),
      "the column of the load cell, by name or number");
}

std::size_t pressure_column(const Head& head, const LogFormat& format) {
  if (format.pressure_column) return asked_column(head, *format.pressure_column, pressure_role);
  const auto named = titled(head, pressure_role);
  return named.size() == 1 ? named.front() : no_column;
}

/// SI in one of the column's numbers.
double factor(const Head& head, std::size_t column, const Role& role,
              const std::optional<std::string>& said, const std::optional<double>& per_count) {
  std::optional<std::string> unit = said;
  if (!unit && per_count) unit = "counts";
  if (!unit && column < head.titles.size()) unit = unit_in(head.titles[column], role);
  if (!unit) ask(head, role.unit, "not given, and not in the header", role.example, column);
  if (*unit == "counts") {
    if (!per_count) ask(head, role.per_count, "not given", "what one count stands for");
    return *per_count;
  }
  if (const auto known = role.factor(*unit)) return *known;
  ask(head, role.unit, *unit, role.example);
}

void take_time(LogLayout& layout, const Head& head, const LogFormat& format) {
  const std::size_t column = layout.time.index = time_column(head, format);
  const bool numbered = column < head.titles.size() && numbers_samples(head.titles[column]);
  layout.counts_samples = column == no_column || format.time_unit == "samples" ||
                          (!format.time_unit && (numbered || format.sample_rate));
  if (!layout.counts_samples) {
    layout.time.factor = factor(head, column, time_role, format.time_unit, std::nullopt);
    return;
  }
  if (!format.sample_rate)
    ask(head, "sample_rate", "not given", "samples in a second, e.g. \"80 Hz\"");
  layout.time.factor = 1 / *format.sample_rate;
}

std::string column_words(const Head& head, std::size_t column) {
  if (column == no_column) return "none";
  if (column < head.titles.size()) return fmt::format("\"{}\"", head.titles[column]);
  return fmt::format("column {}", column + 1);
}

std::string delimiter_words(char delimiter) {
  switch (delimiter) {
    case '\t':
      return "tabs";
    case ' ':
      return "blanks";
    default:
      return fmt::format("\"{}\"", delimiter);
  }
}

std::string described(const LogLayout& layout, const Head& head) {
  std::string words = fmt::format("time {}, force {}", column_words(head, layout.time.index),
                                  column_words(head, layout.force.index));
  if (layout.pressure.index != no_column) {
    words += ", pressure " + column_words(head, layout.pressure.index);
  }
  if (head.width > 1) words += "; columns parted by " + delimiter_words(layout.delimiter);
  if (layout.decimal_comma) words += ", decimal commas";
  return words;
}

/// Rows of numbers that these lines hold if they are so parted, from the first such row on.
struct Trial {
  char delimiter = ',';
  bool decimal_comma = false;
  std::size_t width = 0;
  std::size_t first = 0;
  std::size_t rows = 0;
  std::size_t grouped = 0;  ///< cells with thousands set apart
};

Trial tried(const std::vector<std::string_view>& lines, char delimiter, bool decimal_comma) {
  Trial trial{.delimiter = delimiter, .decimal_comma = decimal_comma};
  const NumberStyle style{decimal_comma};
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (is_blank(lines[i]) || is_comment(lines[i])) continue;
    const auto cells = cells_of(lines[i], delimiter);
    double value = 0;
    bool grouped = false;
    const bool whole = std::ranges::all_of(
        cells, [&](const Cell& cell) { return read_number(cell, style, value, &grouped); });
    if (!whole || (trial.rows > 0 && cells.size() != trial.width)) continue;
    if (trial.rows == 0) trial.first = i;
    trial.width = cells.size();
    trial.grouped += grouped ? 1 : 0;
    ++trial.rows;
  }
  return trial;
}

Trial best_trial(const std::vector<std::string_view>& lines, const LogFormat& format) {
  Trial best;
  for (const char delimiter : {',', ';', '\t', '|', ' '}) {
    if (format.delimiter && *format.delimiter != delimiter) continue;
    for (const bool comma : {false, true}) {
      if (format.decimal_comma && *format.decimal_comma != comma) continue;
      const Trial trial = tried(lines, delimiter, comma);
      // A decimal comma that was none makes one wide number of two, and fits stray rows too.
      const auto weight = [](const Trial& t) { return t.width > 1 ? 3 * t.rows : t.rows; };
      const bool more = weight(trial) > weight(best) ||
                        (weight(trial) == weight(best) &&
                         (trial.width > best.width ||
                          (trial.width == best.width && trial.grouped < best.grouped)));
      if (trial.rows > 0 && more) best = trial;
    }
  }
  if (best.rows == 0 && format.delimiter) best = tried(lines, *format.delimiter, false);
  return best;
}

/// Titles of a header that ends on a line and may begin some lines before, where a quoted cell
/// goes over a line's end.
std::vector<std::string> titles_at(const std::vector<std::string_view>& lines, std::size_t last,
                                   const Trial& trial) {
  constexpr std::size_t most_lines = 6;
  std::string text;
  for (std::size_t i = 0; i < most_lines && i <= last; ++i) {
    std::string_view line = lines[last - i];
    while (is_comment(line)) line.remove_prefix(1);
    while (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    text = std::string(line) + (i > 0 ? " " : "") + text;
    const auto cells = cells_of(text, trial.delimiter);
    if (std::ranges::count(text, '"') % 2 != 0) continue;
    if (cells.size() != trial.width || std::ranges::any_of(cells, &Cell::open)) continue;
    std::vector<std::string> titles;
    for (const Cell& cell : cells) titles.push_back(text_of(cell));
    return titles;
  }
  return {};
}

Head head_of(const std::vector<std::string_view>& lines, const Trial& trial,
             const std::string& name) {
  Head head{.name = name, .titles = {}, .line = 0, .width = trial.width, .rows = {}};
  for (std::size_t i = trial.first; i-- > 0;) {
    if (is_blank(lines[i])) continue;
    head.titles = titles_at(lines, i, trial);
    head.line = static_cast<int>(i) + 1;
    break;
  }
  const NumberStyle style{trial.decimal_comma};
  for (std::size_t i = trial.first; i < lines.size(); ++i) {
    std::vector<double> row;
    for (const Cell& cell : cells_of(lines[i], trial.delimiter)) {
      double value = 0;
      if (read_number(cell, style, value)) row.push_back(value);
    }
    if (row.size() == trial.width) head.rows.push_back(std::move(row));
  }
  return head;
}

}  // namespace

LogLayout layout_of(const std::vector<std::string_view>& lines, const std::string& name,
                    const LogFormat& format) {
  const Trial trial = best_trial(lines, format);
  if (trial.rows == 0) {
    throw InputError({Complaint{"",
                                "no row of numbers in its first lines",
                                "a log: lines of numbers, a column each for "
                                "time and force",
                                {name, 0, 0}}});
  }
  const Head head = head_of(lines, trial, name);
  LogLayout layout{.delimiter = trial.delimiter,
                   .decimal_comma = trial.decimal_comma,
                   .first_row = trial.first,
                   .time = {},
                   .force = {},
                   .pressure = {},
                   .counts_samples = false,
                   .words = {}};
  take_time(layout, head, format);
  layout.force.index = force_column(head, format, layout.time.index);
  layout.force.factor =
      factor(head, layout.force.index, force_role, format.force_unit, format.force_per_count);
  layout.pressure.index = pressure_column(head, format);
  if (layout.pressure.index != no_column) {
    layout.pressure.factor = factor(head, layout.pressure.index, pressure_role,
                                    format.pressure_unit, format.pressure_per_count);
  }
  layout.words = described(layout, head);
  return layout;
}

double newtons_per(const std::string& unit, const std::string& key) {
  if (const auto known = force_factor(unit)) return *known;
  throw InputError(key, unit, force_role.example);
}

}  // namespace grainwright
