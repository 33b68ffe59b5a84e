// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/stand/log.hpp"

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <system_error>

#include "grainwright/error.hpp"
#include "layout.hpp"
#include "utf16.hpp"

namespace grainwright {
namespace {

constexpr std::size_t block_size = 1U << 20U;
// The layout is found from so many lines, which must fit in the first block.
constexpr std::size_t first_lines = 60;
constexpr std::string_view utf8_mark = "\xEF\xBB\xBF";

/// Rows as they come, one held back until the next one shows whether its time was sound.
class Rows {
 public:
  Rows(LogLayout layout, Log& log) : layout_(std::move(layout)), log_(log) {}

  void take(std::string_view line) {
    if (++line_ <= layout_.first_row) return;
    ++log_.rows;
    Row row;
    row.line = line_;
    std::size_t at = 0;
    if (const auto fault = read(line, row, at)) return note(*fault, line_, at);
    // An untimed row takes its place by its number, so that one left out leaves a gap.
    if (layout_.time.index == no_column) {
      row.time = static_cast<double>(log_.rows - 1) * layout_.time.factor;
    }
    place(row);
  }
  void take_overlong() {
    if (++line_ <= layout_.first_row) return;
    ++log_.rows;
    note(RowFault::overlong, line_);
  }
  void finish() {
    if (held_) keep(*held_);
    held_.reset();
  }

 private:
  struct Row {
    double time = 0;
    double force = 0;
    double pressure = 0;
    std::size_t line = 0;
  };

  void note(RowFault fault, std::size_t line, std::size_t column = 0) {
    log_.faults[static_cast<std::size_t>(fault)].add(line, column);
  }
  /// `at` is the cell, from 1, that a fault is in; 0 for the whole line.
  [[nodiscard]] std::optional<RowFault> read(std::string_view line, Row& row,
                                             std::size_t& at) const;
  [[nodiscard]] std::optional<RowFault> read_cell(const Cell& cell, std::size_t column, Row& row,
                                                  unsigned& missing) const;
  void place(const Row& row);
  void keep(const Row& row);

  LogLayout layout_;
  Log& log_;
  std::size_t line_ = 0;
  std::optional<Row> held_;
};

std::optional<RowFault> Rows::read_cell(const Cell& cell, std::size_t column, Row& row,
                                        unsigned& missing) const {
  const auto take = [&](const LogColumn& wanted, double& value) -> std::optional<RowFault> {
    if (wanted.index != column) return std::nullopt;
    if (cell.text.empty()) return RowFault::no_value;
    if (cell.open || !read_number(cell, {layout_.decimal_comma}, value)) {
      return RowFault::no_number;
    }
    value *= wanted.factor;
    --missing;
    return std::isfinite(value) ? std::nullopt : std::optional(RowFault::not_finite);
  };
  if (const auto fault = take(layout_.time, row.time)) return fault;
  if (const auto fault = take(layout_.force, row.force)) return fault;
  return take(layout_.pressure, row.pressure);
}

std::optional<RowFault> Rows::read(std::string_view line, Row& row, std::size_t& at) const {
  if (is_blank(line)) return RowFault::empty;
  if (is_comment(line)) return RowFault::comment;
  unsigned missing = 1U + (layout_.time.index != no_column ? 1U : 0U) +
                     (layout_.pressure.index != no_column ? 1U : 0U);
  for (std::size_t column = 0; !line.empty() && missing > 0; ++column) {
    const Cell cell = next_cell(line, layout_.delimiter);
    at = column + 1;
    if (const auto fault = read_cell(cell, column, row, missing)) return fault;
  }
  at = 0;
  return missing > 0 ? std::optional(RowFault::no_value) : std::nullopt;
}

void Rows::place(const Row& row) {
  if (!held_) {
    held_ = row;
    return;
  }
  if (row.time > held_->time) {
    keep(*held_);
    held_ = row;
    return;
  }
  // One of the two is wrong: the held one if this one goes on from the rows before both.
  const bool goes_on = log_.time.size() > 1 && row.time > log_.time.back();
  if (row.time == held_->time || !goes_on) {
    return note(row.time == held_->time ? RowFault::repeated : RowFault::backward, row.line);
  }
  note(RowFault::ahead, held_->line);
  held_ = row;
}

void Rows::keep(const Row& row) {
  log_.time.push_back(row.time);
  log_.force.push_back(row.force);
  if (layout_.pressure.index != no_column) log_.pressure.push_back(row.pressure);
  log_.line.push_back(static_cast<std::uint32_t>(row.line));
}

/// Lines out of blocks, however they fall.
class Lines {
 public:
  Lines(std::string name, const LogFormat& format, Log& log)
      : name_(std::move(name)), format_(format), log_(log) {}

  /// `size` is that of the whole, 0 where unknown.
  void take(std::string_view block, std::size_t size) {
    if (!begun_) size = open(block, size);
    if (wide_) {
      wide_->turn(block, rest_);
    } else {
      rest_ += block;
    }
    if (!rows_) begin(size);
    std::string_view left = rest_;
    for (std::size_t end = left.find('\n'); end != std::string_view::npos; end = left.find('\n')) {
      take_line(left.substr(0, end));
      left.remove_prefix(end + 1);
    }
    // Of a line without an end the beginning is enough to know that it is overlong.
    if (left.size() > longest_line) {
      cut_ = true;
      left = {};
    }
    rest_ = std::string(left);
  }
  void finish() {
    if (!rows_) begin(0);
    if (!rest_.empty() || cut_) take_line(rest_);
    rows_->finish();
  }

 private:
  void take_line(std::string_view line) {
    const bool overlong = cut_ || line.size() > longest_line;
    cut_ = false;
    overlong ? rows_->take_overlong() : rows_->take(line);
  }
  /// Takes a mark off the first block; gives the size that the text will have.
  std::size_t open(std::string_view& block, std::size_t size);
  void begin(std::size_t size);

  std::optional<Utf16> wide_;
  bool begun_ = false;
  std::string name_;
  const LogFormat& format_;
  Log& log_;
  std::string rest_;
  bool cut_ = false;
  std::optional<Rows> rows_;
};

std::size_t Lines::open(std::string_view& block, std::size_t size) {
  begun_ = true;
  if (block.starts_with(utf8_mark)) block.remove_prefix(utf8_mark.size());
  const bool high_first = block.starts_with("\xFE\xFF");
  if (!high_first && !block.starts_with("\xFF\xFE")) return size;
  block.remove_prefix(2);
  wide_.emplace(high_first);
  return size / 2;
}

void Lines::begin(std::size_t size) {
  std::vector<std::string_view> lines;
  std::string_view left = rest_;
  while (!left.empty() && lines.size() < first_lines) {
    const std::size_t end = std::min(left.find('\n'), left.size());
    if (end > longest_line) break;
    lines.push_back(left.substr(0, end));
    left.remove_prefix(std::min(end + 1, left.size()));
  }
  LogLayout layout = layout_of(lines, name_, format_);
  log_.layout = layout.words;
  log_.counted = layout.time.index == no_column;
  // Rows as long as the first ones, and some more: columns that never have to move are half as big.
  const std::size_t seen = std::max<std::size_t>(1, rest_.size() - left.size());
  const std::size_t likely = size * lines.size() / seen;
  const std::size_t rows = likely + likely / 8;
  log_.time.reserve(rows);
  log_.force.reserve(rows);
  log_.line.reserve(rows);
  if (layout.pressure.index != no_column) log_.pressure.reserve(rows);
  rows_.emplace(std::move(layout), log_);
}

[[noreturn]] void cannot_read(const std::filesystem::path& path) {
  throw FileError(path.string(), std::string("cannot read: ") + std::strerror(errno));
}

}  // namespace

std::string_view words_for(RowFault fault) {
  switch (fault) {
    case RowFault::empty:
      return "empty";
    case RowFault::comment:
      return "a remark";
    case RowFault::no_value:
      return "no value in a column that is needed";
    case RowFault::no_number:
      return "text where a number is due";
    case RowFault::not_finite:
      return "a number that is not finite";
    case RowFault::backward:
      return "time runs backward";
    case RowFault::repeated:
      return "the same time as the row before";
    case RowFault::ahead:
      return "time jumps ahead of the rows that follow";
    case RowFault::overlong:
      return "a line too long to be a row";
  }
  return "";
}

void FaultCount::add(std::size_t line, std::size_t column) {
  if (count++ >= named) return;
  lines.push_back(line);
  columns.push_back(column);
}

Log read_log(const std::filesystem::path& path, const LogFormat& format) {
  std::error_code error;
  if (std::filesystem::is_directory(path, error)) {
    throw FileError(path.string(), "is a folder; a log is a file");
  }
  errno = 0;
  std::ifstream file(path, std::ios::binary);
  if (!file) cannot_read(path);
  const bool regular = std::filesystem::is_regular_file(path, error);
  const auto size = regular ? std::filesystem::file_size(path, error) : 0;
  Log log;
  Lines lines(path.string(), format, log);
  std::string block(block_size, '\0');
  while (file.read(block.data(), static_cast<std::streamsize>(block.size())) || file.gcount() > 0) {
    lines.take(std::string_view(block).substr(0, static_cast<std::size_t>(file.gcount())), size);
  }
  if (file.bad()) cannot_read(path);
  lines.finish();
  return log;
}

Log parse_log(std::string_view text, const std::string& name, const LogFormat& format) {
  Log log;
  Lines lines(name, format, log);
  while (!text.empty()) {
    const std::size_t size = std::min(block_size, text.size());
    lines.take(text.substr(0, size), 0);
    text.remove_prefix(size);
  }
  lines.finish();
  return log;
}

}  // namespace grainwright
