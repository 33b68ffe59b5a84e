// SPDX-License-Identifier: GPL-3.0-or-later
//
// Self-contained pages (HTML): they open from a disk, ask nothing of any network, follow the
// reader's choice of light or dark, print cleanly, and say the same without JavaScript. Whatever
// text they are given is shown as text; a content security policy lets run the page's own script
// alone.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "grainwright/assessment/verdict.hpp"
#include "grainwright/quantity.hpp"
#include "grainwright/report/chart.hpp"
#include "grainwright/report/motor_drawing.hpp"

namespace grainwright {

/// A heading within a chapter.
struct Heading {
  std::string text;
};

/// Running text.
struct Paragraph {
  std::string text;
};

/// A list of short statements.
struct Bullets {
  std::vector<std::string> items;
};

/// Cells of text, one column of `align` each: 'l' left, anything else right.
struct DataTable {
  std::string caption;
  std::string align;
  std::vector<std::string> head = {};
  std::vector<std::vector<std::string>> rows = {};
};

/// A motor as a small drawing under its name.
struct Drawing {
  MotorParts motor;
  std::string name;
};

using Block = std::variant<Heading, Paragraph, Bullets, DataTable, Chart, Drawing>;

/// A part of the page under its own heading.
struct Chapter {
  std::string id;  ///< lower-case letters and hyphens
  std::string heading;
  std::vector<Block> blocks;
};

/// The burn in moments, for a slider and a row of stills.
struct Burn {
  std::vector<double> time;  ///< s; every chart of the page has these moments
  std::vector<double> web;   ///< m
  std::vector<double> left;  ///< share of the propellant
};

/// A key figure of the first screen: what, and how much.
using Figure = std::pair<std::string, std::string>;

/// Everything that a page of one motor says.
struct Report {
  std::string kind;                 ///< what the page is, "Motor report"
  std::string title;                ///< the job's
  std::string file;                 ///< the job's
  std::string verdict;              ///< its first sentence
  Answer answer = Answer::unknown;  ///< of the verdict
  std::vector<Figure> figures;
  std::optional<MotorParts> motor;  ///< drawn; nothing where several are compared
  std::optional<Burn> burn;         ///< where it can be moved
  Chart first;                      ///< beside the drawing
  std::vector<Chapter> chapters;
  std::string job_text;  ///< folded in; may be empty
  UnitSystem units = UnitSystem::us;
};

[[nodiscard]] std::string html_of(const Report& report);

}  // namespace grainwright
