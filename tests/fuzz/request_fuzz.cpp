// SPDX-License-Identifier: GPL-3.0-or-later
//
// Any bytes are a request to the bench, as they would come through its socket: judged at the door,
// then answered. What it may write lies beside the job, under a plain name.
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <stdexcept>
#include <string>

#include "bench/guard.hpp"
#include "bench/replies.hpp"
#include "fuzz/support.hpp"
#include "grainwright/error.hpp"

namespace {

using namespace grainwright;
using namespace grainwright::bench;
namespace fs = std::filesystem;

const Door door = {.port = 8080, .token = "0123456789abcdef0123456789abcdef"};
const std::string the_case = "/cases/02-flat-burn-in-a-short-casing.toml";

/// A folder in a folder, so that a file that escapes is seen.
class Folder {
 public:
  Folder() {
    std::string made = (fs::temp_directory_path() / "grainwright-fuzz-XXXXXX").string();
    if (mkdtemp(made.data()) == nullptr) throw std::runtime_error("no temporary folder");
    top_ = made;
    clear();
  }
  ~Folder() { fs::remove_all(top_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  [[nodiscard]] fs::path job() const { return top_ / "desk" / "job.toml"; }
  void check() const {
    for (const auto& entry : fs::directory_iterator(top_)) {
      fuzz::demand(entry.path().filename() == "desk", "nothing is written outside");
    }
    for (const auto& entry : fs::directory_iterator(top_ / "desk")) {
      fuzz::demand(is_plain_name(entry.path().filename().string()), "a file has a plain name");
    }
  }
  void clear() const {
    fs::remove_all(top_ / "desk");
    fs::create_directory(top_ / "desk");
    fs::copy_file(GRAINWRIGHT_SOURCE_DIR + the_case, job());
  }

 private:
  fs::path top_;
};

/// Up to the separator, which is taken away too.
std::string_view taken(std::string_view& text, std::string_view separator) {
  const auto at = text.find(separator);
  const std::string_view part = text.substr(0, at);
  text.remove_prefix(at == std::string_view::npos ? text.size() : at + separator.size());
  return part;
}

Knock knock_of(std::string_view head) {
  Knock knock;
  std::string_view line = taken(head, "\n");
  knock.method = taken(line, " ");
  knock.path = taken(line, " ");
  std::map<std::string, std::string, std::less<>> headers;
  while (!head.empty()) {
    std::string_view header = taken(head, "\n");
    const std::string_view key = taken(header, ": ");
    headers[std::string(key)] = header;
  }
  knock.host = headers["Host"];
  knock.origin = headers["Origin"];
  knock.fetch_site = headers["Sec-Fetch-Site"];
  knock.fetch_mode = headers["Sec-Fetch-Mode"];
  knock.content_type = headers["Content-Type"];
  knock.content_length = headers["Content-Length"];
  knock.transfer_encoding = headers.contains("Transfer-Encoding");
  return knock;
}

/// "newest" stands for the stamp of the job, which no stored request can know.
Json read(std::string_view body, Desk& desk) {
  Json json = read_body(body);
  const auto stamp = json.find("stamp");
  if (stamp != json.end() && *stamp == "newest") *stamp = desk.newest()->stamp;
  return json;
}

Reply reply_to(const Knock& knock, std::string_view body, Desk& desk) {
  const std::string_view errand = errand_of(knock.path, door);
  try {
    if (knock.method == "POST") return done(errand, read(body, desk), desk);
    return errand == "report" ? reported(read(body, desk), desk) : told(errand, desk);
  } catch (const InputError& error) {
    return refusal(422, error.what());
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Folder folder;
  static Desk desk(folder.job());
  std::string_view body = fuzz::text_of(data, size);
  const Knock knock = knock_of(taken(body, "\n\n"));
  if (!judged(knock, door).enter()) return 0;
  const Reply reply = reply_to(knock, body, desk);
  fuzz::demand(!reply.type.empty(), "an answer has a type");
  if (knock.method == "POST" && errand_of(knock.path, door) == "save" && reply.status == 200) {
    folder.check();
    folder.clear();
  }
  return 0;
}
