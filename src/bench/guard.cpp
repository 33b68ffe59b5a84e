// SPDX-License-Identifier: GPL-3.0-or-later
#include "guard.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <random>

namespace grainwright::bench {
namespace {

/// Takes as long whatever the words are, so that time does not tell how much of a guess was right.
bool same(std::string_view a, std::string_view b) {
  if (a.size() != b.size()) return false;
  unsigned differs = 0;
  for (std::size_t i = 0; i < a.size(); ++i) differs |= static_cast<unsigned>(a[i] ^ b[i]);
  return differs == 0;
}

bool is_ours(std::string_view host, const Door& door) {
  return host == fmt::format("127.0.0.1:{}", door.port) ||
         host == fmt::format("localhost:{}", door.port);
}

bool knows_token(std::string_view path, const Door& door) {
  return path.size() >= door.token.size() + 2 && path.front() == '/' &&
         path[door.token.size() + 1] == '/' && same(path.substr(1, door.token.size()), door.token);
}

bool from_our_page(std::string_view origin, const Door& door) {
  constexpr std::string_view scheme = "http://";
  return origin.starts_with(scheme) && is_ours(origin.substr(scheme.size()), door);
}

/// Of what a browser says of a request's origin, where it says anything. The page itself may be
/// come to from anywhere, by who knows the token; what it then asks must come from itself.
bool comes_from_here(const Knock& knock, const Door& door) {
  const std::string& site = knock.fetch_site;
  if (site.empty() || site == "same-origin") return true;
  if (knock.method != "GET") return false;
  const bool to_the_page = knock.fetch_mode == "navigate" && errand_of(knock.path, door).empty();
  return site == "none" || to_the_page;
}

Verdict body_verdict(const Knock& knock) {
  std::size_t length = 0;
  const char* end = knock.content_length.data() + knock.content_length.size();
  const auto [rest, error] = std::from_chars(knock.content_length.data(), end, length);
  if (knock.transfer_encoding || error != std::errc{} || rest != end) {
    return {411, "the body must come plain and with its length"};
  }
  if (length > longest_body) {
    return {413, fmt::format("the body must not exceed {} bytes", longest_body)};
  }
  if (knock.content_type != "application/json") return {415, "the body must be JSON"};
  return {};
}

}  // namespace

std::string Door::address() const {
  return fmt::format("http://127.0.0.1:{}/{}/", port, token);
}

Verdict judged(const Knock& knock, const Door& door) {
  if (!is_ours(knock.host, door)) return {421, "this server answers to its own address alone"};
  if (knock.path.size() > longest_path) return {414, "the path is too long"};
  if (!knows_token(knock.path, door)) {
    return {404, "nothing here; open the address that `grainwright bench` printed"};
  }
  const bool posts = knock.method == "POST";
  if (!posts && knock.method != "GET") return {405, "GET or POST"};
  const bool elsewhere = posts ? !from_our_page(knock.origin, door)
                               : !knock.origin.empty() && !from_our_page(knock.origin, door);
  if (elsewhere) return {403, "only the bench's own page may ask"};
  if (!comes_from_here(knock, door)) {
    return {403, "only the bench's own page may ask"};
  }
  return posts ? body_verdict(knock) : Verdict{};
}

std::string_view errand_of(std::string_view path, const Door& door) {
  return path.substr(std::min(path.size(), door.token.size() + 2));
}

std::string new_token() {
  std::random_device machine;
  std::string token;
  for (int i = 0; i < 4; ++i) token += fmt::format("{:08x}", machine());
  return token;
}

bool Turnstile::passes(Clock::time_point now) {
  const std::lock_guard lock(mutex_);
  if (last_ != Clock::time_point{}) {
    const double passed = std::chrono::duration<double>(now - last_).count();
    left_ = std::min(burst_, left_ + passed * rate_);
  }
  last_ = std::max(now, last_);
  if (left_ < 1) return false;
  left_ -= 1;
  return true;
}

}  // namespace grainwright::bench
