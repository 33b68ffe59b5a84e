// SPDX-License-Identifier: GPL-3.0-or-later
//
// Who may come in. Pages of other sites can make a browser send requests to this machine, and a
// name that they control may be made to point here; so each request must name this very address,
// come from a page of it, and know the token that was printed at the start.
#pragma once

#include <chrono>
#include <mutex>
#include <string>
#include <string_view>

namespace grainwright::bench {

/// What is looked at of a request before its body is read. Headers that are missing are empty.
struct Knock {
  std::string method;
  std::string path;
  std::string host;
  std::string origin;
  std::string fetch_site;  ///< Sec-Fetch-Site
  std::string fetch_mode;  ///< Sec-Fetch-Mode
  std::string content_type;
  std::string content_length;
  bool transfer_encoding = false;  ///< any Transfer-Encoding, or a Content-Encoding
};

/// Where the server listens, and what must stand first in every path.
struct Door {
  int port = 0;
  std::string token;
  [[nodiscard]] std::string address() const;  ///< "http://127.0.0.1:1234/token/"
};

/// A status and a sentence; 200 lets it in.
struct Verdict {
  int status = 200;
  std::string words;
  [[nodiscard]] bool enter() const { return status == 200; }
};

inline constexpr std::size_t longest_body = 32U << 10U;
inline constexpr std::size_t longest_path = 6000;

[[nodiscard]] Verdict judged(const Knock& knock, const Door& door);

/// What stands behind the token: "answer" in "/token/answer".
[[nodiscard]] std::string_view errand_of(std::string_view path, const Door& door);

/// 32 hexadecimal digits that nobody can guess. Throws std::exception where the machine has none.
[[nodiscard]] std::string new_token();

/// At most so many requests a second, and so many at once.
class Turnstile {
 public:
  using Clock = std::chrono::steady_clock;
  Turnstile(double per_second, double burst) : rate_(per_second), burst_(burst), left_(burst) {}
  [[nodiscard]] bool passes(Clock::time_point now);

 private:
  std::mutex mutex_;
  double rate_;
  double burst_;
  double left_;
  Clock::time_point last_ = {};
};

}  // namespace grainwright::bench
