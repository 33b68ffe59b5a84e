// SPDX-License-Identifier: GPL-3.0-or-later
//
// The log of a thrust stand: lines of numbers as a load cell's logger writes them, read as they
// stream by. What is certain is found out (delimiter, header, columns and units that the header
// names); what is not is asked for. Every row that cannot be used is named and counted.
//
// Lines are taken apart by RFC 4180 (quoted cells, two quotes for one), whatever parts them;
// numbers may have decimal commas and thousands set apart; UTF-16 with a mark is read as UTF-8 is.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace grainwright {

/// What a person says of a log. Columns are names of the header, or numbers counted from 1.
struct LogFormat {
  std::optional<char> delimiter = {};           ///< ' ' for any run of blanks
  std::optional<bool> decimal_comma = {};       ///< else found out
  std::optional<std::string> time_column = {};  ///< "none" where there is none
  std::optional<std::string> force_column = {};
  std::optional<std::string> pressure_column = {};  ///< "none" where it is not wanted
  std::optional<std::string> time_unit = {};        ///< of time, or "samples"
  std::optional<double> sample_rate = {};           ///< Hz; where time counts samples, or is none
  std::optional<std::string> force_unit = {};       ///< of force or mass, or "counts"
  std::optional<double> force_per_count = {};       ///< N
  std::optional<std::string> pressure_unit = {};    ///< of pressure, or "counts"
  std::optional<double> pressure_per_count = {};    ///< Pa
};

/// Why a row is not used.
enum class RowFault : std::size_t {
  empty,       ///< nothing on the line
  comment,     ///< begins with # or %
  no_value,    ///< a column that is needed is not there
  no_number,   ///< text where a number is due
  not_finite,  ///< NaN or an infinity
  backward,    ///< its time is before that of the row above
  repeated,    ///< its time is that of the row above
  ahead,       ///< its time jumps ahead of the rows that follow
  overlong,    ///< a line of more than `longest_line` bytes
};
inline constexpr std::size_t row_faults = 9;
inline constexpr std::size_t longest_line = 1U << 16U;
[[nodiscard]] std::string_view words_for(RowFault fault);

/// How often one fault was met, and where first.
struct FaultCount {
  static constexpr std::size_t named = 5;
  std::size_t count = 0;
  std::vector<std::size_t> lines = {};    ///< of the file, from 1; the first `named` of them
  std::vector<std::size_t> columns = {};  ///< cell of each, from 1; 0 for the whole line
  void add(std::size_t line, std::size_t column = 0);
};

/// A log in SI, bad rows left out; columns of equal length, time rising.
struct Log {
  std::vector<double> time;         ///< s
  std::vector<double> force;        ///< N, as read: with tare, drift and either sign
  std::vector<double> pressure;     ///< Pa, gauge or absolute as logged; empty where there is none
  std::vector<std::uint32_t> line;  ///< of the file, from 1
  std::size_t rows = 0;             ///< below the header, used or not
  std::array<FaultCount, row_faults> faults = {};
  std::string layout;    ///< what was taken for what, in words
  bool counted = false;  ///< rows were counted for time, or samples

  [[nodiscard]] const FaultCount& of(RowFault fault) const {
    return faults[static_cast<std::size_t>(fault)];
  }
  /// Rows left out.
  [[nodiscard]] std::size_t left_out() const { return rows - time.size(); }
};

/// Reads a log. Throws FileError where the file cannot be read, InputError where no column of
/// numbers is found, or where something has to be said about it (by the LogFormat's field).
[[nodiscard]] Log read_log(const std::filesystem::path& path, const LogFormat& format = {});
/// The same from text; `name` stands for the file in complaints.
[[nodiscard]] Log parse_log(std::string_view text, const std::string& name,
                            const LogFormat& format = {});

/// N in one of this unit of force, or of mass under standard gravity ("kg" on a scale's display).
/// Throws InputError that names `key`.
[[nodiscard]] double newtons_per(const std::string& unit, const std::string& key);

}  // namespace grainwright
