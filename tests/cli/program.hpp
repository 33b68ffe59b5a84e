// SPDX-License-Identifier: GPL-3.0-or-later
//
// Runs the built program as its users do, and keeps what it said.
#pragma once

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <regex>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

namespace program {

inline std::string content(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// A folder of its own for one test, gone with it.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "grainwright-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }
  [[nodiscard]] std::string file(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return file(name);
  }
  [[nodiscard]] std::size_t files() const {
    return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(path_), {}));
  }

 private:
  std::filesystem::path path_;
};

struct Run {
  int exit = -1;  ///< -1 when a signal ended it
  std::string out;
  std::string err;
  [[nodiscard]] nlohmann::ordered_json json() const { return nlohmann::ordered_json::parse(out); }
};

struct Setting {
  std::string locale = "C.UTF-8";
  std::optional<int> out = {};  ///< file descriptor for standard output, instead of keeping it
  bool closed_out = false;
  /// Ctrl-C, so long after the program has begun to listen to it.
  std::optional<std::chrono::milliseconds> interrupt_after = {};
};

/// Until a process has Ctrl-C wait for a thread of its own, or has ended.
inline void wait_until_it_listens(pid_t process) {
  const std::string status = "/proc/" + std::to_string(process) + "/status";
  const std::regex blocked("SigBlk:\\s*[0-9a-f]*[2367abef]\\n");  // the second signal's bit
  for (int i = 0; i < 10'000; ++i) {
    const std::string text = content(status);
    if (text.empty() || std::regex_search(text, blocked) || text.find("(zombie)") != text.npos) {
      return;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
}

inline Run run(const std::vector<std::string>& words, const Setting& setting = {}) {
  Folder folder;
  std::string out = folder.file("out");
  std::string err = folder.file("err");
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
  if (setting.closed_out) {
    posix_spawn_file_actions_addclose(&actions, 1);
  } else if (setting.out) {
    posix_spawn_file_actions_adddup2(&actions, *setting.out, 1);
  } else {
    posix_spawn_file_actions_addopen(&actions, 1, out.c_str(), O_WRONLY | O_CREAT, 0600);
  }
  posix_spawn_file_actions_addopen(&actions, 2, err.c_str(), O_WRONLY | O_CREAT, 0600);

  std::vector<std::string> argument_text = {GRAINWRIGHT_PROGRAM};
  argument_text.insert(argument_text.end(), words.begin(), words.end());
  std::vector<char*> arguments;
  for (std::string& word : argument_text) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  std::string locale = "LC_ALL=" + setting.locale;
  char* environment[] = {locale.data(), nullptr};

  pid_t child = 0;
  int failed =
      posix_spawn(&child, GRAINWRIGHT_PROGRAM, &actions, nullptr, arguments.data(), environment);
  posix_spawn_file_actions_destroy(&actions);
  if (failed != 0) throw std::runtime_error("the program cannot be started");
  if (setting.interrupt_after) {
    wait_until_it_listens(child);
    std::this_thread::sleep_for(*setting.interrupt_after);
    kill(child, SIGINT);
  }
  int status = 0;
  waitpid(child, &status, 0);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, content(out), content(err)};
}

/// The keys of a JSON object, in their order.
inline std::vector<std::string> keys(const nlohmann::ordered_json& object) {
  std::vector<std::string> names;
  for (const auto& [name, value] : object.items()) names.push_back(name);
  return names;
}

/// The text with its line breaks and indents as single spaces.
inline std::string one_line(const std::string& text) {
  return std::regex_replace(text, std::regex("\\s+"), " ");
}

/// The widest line in columns of a terminal: UTF-8 characters.
inline std::size_t widest_line(const std::string& text) {
  std::size_t widest = 0;
  std::size_t width = 0;
  for (char byte : text) {
    if (byte == '\n') {
      width = 0;
    } else if ((static_cast<unsigned char>(byte) & 0xC0U) != 0x80U) {
      widest = std::max(widest, ++width);
    }
  }
  return widest;
}

}  // namespace program
