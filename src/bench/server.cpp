// SPDX-License-Identifier: GPL-3.0-or-later
#include "server.hpp"

#include <fmt/format.h>
#include <httplib.h>

#include <chrono>
#include <mutex>
#include <thread>
#include <utility>

#include "grainwright/error.hpp"
#include "guard.hpp"
#include "quest.hpp"
#include "replies.hpp"

namespace grainwright::bench {
namespace {

constexpr const char* this_machine = "127.0.0.1";
constexpr std::size_t threads = 16;  // more than the connections of two windows
constexpr double requests_per_second = 500;
constexpr double requests_at_once = 1000;
constexpr std::size_t longest_ticket = 64;

/// No script but the page's own files, nothing from elsewhere, in nobody's frame.
const httplib::Headers& headers() {
  static const httplib::Headers all = {
      {"Content-Security-Policy",
       "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; "
       "img-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
      {"X-Content-Type-Options", "nosniff"},
      {"X-Frame-Options", "DENY"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Cache-Control", "no-store"}};
  return all;
}

Knock knock_of(const httplib::Request& request) {
  const auto header = [&request](const char* name) { return request.get_header_value(name); };
  return {.method = request.method,
          .path = request.path,
          .host = request.get_header_value_count("Host") == 1 ? header("Host") : "",
          .origin = header("Origin"),
          .fetch_site = header("Sec-Fetch-Site"),
          .fetch_mode = header("Sec-Fetch-Mode"),
          .content_type = header("Content-Type"),
          .content_length = header("Content-Length"),
          .transfer_encoding =
              request.has_header("Transfer-Encoding") || request.has_header("Content-Encoding")};
}

/// The report brings its own script and style. It is kept in a world of its own, from which it can
/// neither read nor ask the bench.
constexpr const char* foreign_policy =
    "sandbox allow-scripts allow-modals allow-downloads; default-src 'none'; img-src data:; "
    "script-src 'unsafe-inline'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'";

/// As it is: what is given as a whole the library would compress, which takes thirty times as long
/// as an answer does, and no wire is saved on a loopback.
void give(httplib::Response& response, Reply reply) {
  if (reply.foreign) {
    response.headers.erase("Content-Security-Policy");
    response.set_header("Content-Security-Policy", foreign_policy);
  }
  response.status = reply.status;
  const std::size_t size = reply.body.size();
  response.set_content_provider(size, reply.type,
                                [body = std::move(reply.body)](std::size_t from, std::size_t length,
                                                               httplib::DataSink& sink) {
                                  return sink.write(body.data() + from, length);
                                });
}

class Service {
 public:
  Service(Desk& desk, httplib::Server& server, std::function<void()> entered)
      : desk_(desk), server_(server), entered_(std::move(entered)) {
    server_.new_task_queue = [] { return new httplib::ThreadPool(threads); };
    server_.set_tcp_nodelay(true);
    server_.set_keep_alive_max_count(1'000'000);
    server_.set_keep_alive_timeout(2);  // an idle connection holds up the end as long
    server_.set_read_timeout(3);
    server_.set_write_timeout(3);
    server_.set_payload_max_length(longest_body);
    server_.set_default_headers(headers());
    server_.set_pre_routing_handler([this](const auto& request, auto& response) {
      return let_in(request, response) ? httplib::Server::HandlerResponse::Unhandled
                                       : httplib::Server::HandlerResponse::Handled;
    });
    server_.Get("/[0-9a-f]+/[a-z.]*",
                [this](const auto& request, auto& response) { get(request, response); });
    server_.Post("/[0-9a-f]+/[a-z]+",
                 [this](const auto& request, auto& response) { post(request, response); });
    server_.set_exception_handler([](const auto&, auto& response, std::exception_ptr) {
      give(response, refusal(500, "the bench has failed at this; its other windows go on"));
    });
  }

  Door& door() { return door_; }
  void stop() { searches_.stop_all(); }

 private:
  bool let_in(const httplib::Request& request, httplib::Response& response) {
    const Verdict verdict = judged(knock_of(request), door_);
    if (!verdict.enter()) {
      give(response, refusal(verdict.status, verdict.words));
    } else if (!turnstile_.passes(Turnstile::Clock::now())) {
      give(response, refusal(429, "too many requests at once"));
    } else {
      return true;
    }
    return false;
  }

  void get(const httplib::Request& request, httplib::Response& response) {
    const std::string_view errand = errand_of(request.path, door_);
    if (errand.empty() && entered_) std::call_once(once_entered_, entered_);
    if (errand != "report") return give(response, told(errand, desk_));
    try {
      give(response, reported(read_body(request.get_param_value("of")), desk_));
    } catch (const InputError& error) {
      give(response, refusal(422, error.what()));
    }
  }

  void post(const httplib::Request& request, httplib::Response& response) {
    const std::string errand(errand_of(request.path, door_));
    try {
      const Json body = read_body(request.body);
      if (errand == "search") return search(body, response);
      if (errand == "stop") return stop_search(body, response);
      give(response, done(errand, body, desk_));
    } catch (const InputError& error) {
      give(response, refusal(422, error.what()));
    }
  }

  static std::string ticket_of(const Json& body) {
    const auto ticket = body.find("ticket");
    const bool sound = ticket != body.end() && ticket->is_string();
    std::string text = sound ? ticket->get<std::string>() : "";
    if (text.empty() || text.size() > longest_ticket) {
      throw InputError("ticket", "missing or too long", "a short text of the window's own");
    }
    return text;
  }

  void search(const Json& body, httplib::Response& response) {
    const auto sheet = sheet_of(body, desk_);
    const State state = read_state(body.value("state", Json()), sheet->job);
    const std::string ticket = ticket_of(body);
    const auto stop = searches_.begin(ticket);
    if (!stop) return give(response, refusal(429, "two searches run already; stop one of them"));
    response.set_chunked_content_provider(
        "application/x-ndjson",
        [sheet, state, stop = *stop](std::size_t, httplib::DataSink& sink) {
          search_aloud(sheet->job, state, stop, [&sink](const Json& line) {
            const std::string text = written(line) + '\n';
            return sink.write(text.data(), text.size());
          });
          sink.done();
          return true;
        },
        [this, ticket](bool) { searches_.end(ticket); });
  }

  void stop_search(const Json& body, httplib::Response& response) {
    const bool stopped = searches_.stop(ticket_of(body));
    give(response, stopped ? Reply{.type = "application/json", .body = "{}"}
                           : refusal(404, "no search of that ticket runs"));
  }

  Desk& desk_;
  httplib::Server& server_;
  std::function<void()> entered_;
  std::once_flag once_entered_;
  Door door_{.port = 0, .token = new_token()};
  Searches searches_;
  Turnstile turnstile_{requests_per_second, requests_at_once};
};

/// Stops a server that may not listen yet.
void stop_once_running(httplib::Server& server) {
  while (!server.is_running()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
  server.stop();
}

}  // namespace

void serve(Desk& desk, const ServerOptions& options) {
  httplib::Server server;
  Service service(desk, server, options.entered);
  const bool any = options.port == 0;
  const int port = any ? server.bind_to_any_port(this_machine) : options.port;
  if (port < 0 || (!any && !server.bind_to_port(this_machine, port))) {
    throw FileError(fmt::format("{}:{}", this_machine, options.port),
                    "cannot listen there; is the port taken?");
  }
  service.door().port = port;
  if (options.ready) options.ready(service.door().address());
  const std::stop_callback on_stop(options.stop, [&] {
    service.stop();
    stop_once_running(server);
  });
  server.listen_after_bind();
}

}  // namespace grainwright::bench
