// SPDX-License-Identifier: GPL-3.0-or-later
#include "replies.hpp"

#include "answer.hpp"
#include "cli/report_chapters.hpp"
#include "grainwright/error.hpp"
#include "page_parts.hpp"

namespace grainwright::bench {
namespace {

constexpr int deepest = 8;

Reply json_reply(const Json& json) {
  return {.type = "application/json", .body = written(json)};
}

Json opening_of(Desk& desk) {
  const auto sheet = desk.newest();
  Json json = {
      {"file", desk.file_name()}, {"stamp", sheet->stamp}, {"free_name", desk.free_name()}};
  json.update(opening(sheet->job));
  return json;
}

Reply saved(const Json& request, Desk& desk) {
  const auto sheet = sheet_of(request, desk);
  const auto name = request.find("name");
  if (name == request.end() || !name->is_string()) {
    throw InputError("name", "missing", "a file name");
  }
  const auto asked = request.find("replace");
  const bool replace = asked != request.end() && *asked == true;
  const State state = read_state(request.value("state", Json()), sheet->job);
  const std::string file = name->get<std::string>();
  desk.save(*sheet, state, file, replace);
  Json json = {{"saved", file}, {"free_name", desk.free_name()}, {"stamp", sheet->stamp}};
  // The window goes on with what it has just written over its own job.
  if (file == desk.file_name()) json["stamp"] = desk.newest()->stamp;
  return json_reply(json);
}

}  // namespace

std::string written(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Reply refusal(int status, std::string_view words) {
  return {.status = status, .type = "application/json", .body = written({{"words", words}})};
}

Reply page_part(std::string_view name) {
  for (const PagePart& part : page_parts()) {
    if (part.name == name) return {.type = std::string(part.type), .body = std::string(part.text)};
  }
  return refusal(404, "nothing of that name");
}

Reply told(std::string_view errand, Desk& desk) {
  if (errand == "stamp") return json_reply({{"stamp", desk.stamp_on_disk()}});
  if (errand != "opening") return page_part(errand);
  try {
    return json_reply(opening_of(desk));
  } catch (const InputError& error) {
    return refusal(422, error.what());
  } catch (const FileError& error) {
    return refusal(404, error.what());
  }
}

Reply done(std::string_view errand, const Json& request, Desk& desk) {
  try {
    if (errand == "answer") return json_reply(answer(request, sheet_of(request, desk)->job));
    if (errand == "save") return saved(request, desk);
    return refusal(404, "no such errand");
  } catch (const InputError& error) {
    return refusal(422, error.what());
  } catch (const FileError& error) {
    return refusal(409, error.what());
  }
}

Reply reported(const Json& request, Desk& desk) {
  try {
    const auto sheet = sheet_of(request, desk);
    const State state = read_state(request.value("state", Json()), sheet->job);
    const std::string text = text_with(*sheet, state);
    const Job job = with_state(sheet->job, state);
    Report report = cli::report_of(job, cli::findings_of(job, job.units, cli::Depth::figures),
                                   desk.file().string(), job.units);
    report.file = desk.file_name() + ", changed on the bench";
    report.job_text = text;
    return {.type = "text/html; charset=utf-8", .body = html_of(report), .foreign = true};
  } catch (const InputError& error) {
    return {.status = 422, .type = "text/plain; charset=utf-8", .body = error.what()};
  } catch (const FileError& error) {
    return {.status = 409, .type = "text/plain; charset=utf-8", .body = error.what()};
  }
}

Json read_body(std::string_view body) {
  const auto shallow = [](int depth, Json::parse_event_t, Json&) {
    if (depth > deepest) throw InputError("request", "nested too deep", "what the page sends");
    return true;
  };
  Json json = Json::parse(body, shallow, false);
  if (!json.is_object()) throw InputError("request", "no JSON table", "what the page sends");
  return json;
}

std::shared_ptr<const Sheet> sheet_of(const Json& request, const Desk& desk) {
  const auto stamp = request.find("stamp");
  auto sheet = stamp != request.end() && stamp->is_string()
                   ? desk.sheet(stamp->get_ref<const std::string&>())
                   : nullptr;
  if (!sheet) throw InputError("stamp", "a job that is not open any more", "load the page again");
  return sheet;
}

}  // namespace grainwright::bench
