// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/error.hpp"

#include <utility>

namespace grainwright {
namespace {

std::string joined(const std::vector<Complaint>& complaints) {
  std::string text;
  for (const Complaint& complaint : complaints) {
    if (!text.empty()) text += '\n';
    text += complaint.text();
  }
  return text;
}

}  // namespace

std::string Complaint::text() const {
  std::string text = place.file;
  if (place.line > 0) text += ':' + std::to_string(place.line);
  if (place.column > 0) text += ':' + std::to_string(place.column);
  for (const std::string& part : {key, given, allowed}) {
    if (part.empty()) continue;
    if (!text.empty()) text += ": ";
    text += part;
  }
  return text;
}

InputError::InputError(std::vector<Complaint> complaints)
    : Error(joined(complaints)), complaints_(std::move(complaints)) {}

InputError::InputError(std::string key, std::string given, std::string allowed)
    : InputError(std::vector<Complaint>{{std::move(key), std::move(given), std::move(allowed)}}) {}

FileError::FileError(const std::string& path, const std::string& reason)
    : Error(path + ": " + reason) {}

}  // namespace grainwright
