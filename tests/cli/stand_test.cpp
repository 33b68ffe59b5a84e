// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>

#include "jobs.hpp"
#include "program.hpp"
#include "support/checks.hpp"

using Catch::Matchers::Contains;
using program::Folder;
using program::run;
using program::Run;

namespace {

/// The log of a job's own firing: rows of a millisecond, tare 10 N, no noise, 0.5 s before.
std::string own_log(const std::string& job_path, double scale = 1, double from = 0) {
  const auto curve = run({"fire", job_path, "--json"}).json()["curve"];
  const std::vector<double> time = curve["time_s"], thrust = curve["thrust_N"];
  std::string text = "time_s,force_N\n";
  for (int i = static_cast<int>(1000 * from); i < 500 + 1000 * time.back() + 500; ++i) {
    const double t = i * 1e-3 - 0.5;
    const auto next = std::ranges::upper_bound(time, t);
    double f = 0;
    if (next != time.begin() && next != time.end()) {
      const auto k = static_cast<std::size_t>(next - time.begin());
      f = std::lerp(thrust[k - 1], thrust[k], (t - time[k - 1]) / (time[k] - time[k - 1]));
    }
    text += std::to_string(t + 0.5) + ',' + std::to_string(scale * (f + 10)) + '\n';
  }
  return text;
}

}  // namespace

TEST_CASE("stand tells the figures, the fit and the comparison, in the keys that were promised") {
  Folder folder;
  const auto job = folder.file("job.toml", jobs::whole_motor);
  const auto log = folder.file("log.csv", own_log(job));
  const auto summary = run({"fire", job, "--json"}).json()["summary"];
  const Run done = run({"stand", log, "--job", job, "--json"});
  INFO(done.err);
  REQUIRE(done.exit == 0);
  const auto stand = done.json()["stand"];
  checks::expect("impulse of a motor's own log, N s", "its own firing, invented",
                 summary["total_impulse_Ns"], stand["total_impulse_Ns"], checks::relative(1e-3));
  checks::expect("peak of a motor's own log, N", "its own firing, invented",
                 summary["peak_thrust_N"], stand["peak_thrust_N"], checks::relative(1e-3));
  CHECK(stand["letter_class"] == summary["letter_class"]);
  for (const char* key : {"burning_time_s", "action_time_s", "mean_thrust_N"}) {
    CHECK(stand[key].get<double>() > 0);
  }
  const auto fit = stand["fit"];
  CHECK(fit["rate_m_s"].get<double>() ==
        Approx(3e-3 * std::pow(fit["at_Pa"].get<double>() / 1e6, 0.35)).epsilon(1e-3));
  CHECK(fit["n"] == 0.35);
  CHECK(fit["covariance"].size() == 6);
  CHECK(done.json()["doubts"].empty());
  CHECK(done.json()["round_trip"][0]["met"] == true);
  CHECK(stand["comparison"]["hints"].empty());
  CHECK(done.json()["curve"]["fitted_thrust_N"].size() == done.json()["curve"]["time_s"].size());
}

TEST_CASE("stand without a job gives the figures alone") {
  Folder folder;
  const auto job = folder.file("job.toml", jobs::whole_motor);
  const auto log = folder.file("log.csv", own_log(job));
  const Run done = run({"stand", log, "--propellant", "0.99 kg", "--units", "si"});
  CHECK(done.exit == 0);
  CHECK_THAT(done.out, Contains("specific impulse"));
  CHECK_THAT(done.out, !Contains("Burn law"));
  CHECK(program::widest_line(done.out) <= 100);
}

TEST_CASE("stand saves a job with the measured law, which fires and is measured again") {
  Folder folder;
  const auto job = folder.file("job.toml", jobs::whole_motor);
  const auto log = folder.file("log.csv", own_log(job));
  const auto saved = folder.file("saved.toml");
  const Run done = run({"stand", log, "--job", job, "--save", saved, "--date", "2031-05-12"});
  INFO(done.err);
  REQUIRE(done.exit == 0);
  CHECK_THAT(program::content(saved), Contains("date = \"2031-05-12\""));
  CHECK_THAT(program::content(saved), Contains("logs = [\"log.csv\"]"));
  CHECK(run({"fire", saved}).exit == 0);
  CHECK(run({"stand", log, "--job", saved}).exit == 0);
  CHECK(run({"stand", log, "--job", job, "--save", saved}).exit == 3);
}

TEST_CASE("From a doubtful log nothing is saved, unless it is asked for and stamped") {
  Folder folder;
  const auto job = folder.file("job.toml", jobs::whole_motor);
  const auto saved = folder.file("saved.toml");
  for (const auto& [text, why] : {std::pair{own_log(job, 4.4482216152605), "pounds-force"},
                                  std::pair{own_log(job, 1, 0.7), "begins or ends"}}) {
    const auto log = folder.file("log.csv", text);
    const Run told = run({"stand", log, "--job", job, "--save", saved});
    CHECK(told.exit == 1);
    CHECK_THAT(told.out, Contains("DOUBTFUL") && Contains(why) && Contains("NOTHING IS SAVED"));
    const auto data = run({"stand", log, "--job", job, "--save", saved, "--json"}).json();
    CHECK(data["saved"] == false);
    REQUIRE_FALSE(data["doubts"].empty());
    CHECK_THAT(data["doubts"][0]["words"].get<std::string>(), Contains(why));
    CHECK_FALSE(std::filesystem::exists(saved));
  }
  const auto log = folder.file("log.csv", own_log(job, 2));
  const Run kept = run({"stand", log, "--job", job, "--save", saved, "--save-doubtful"});
  CHECK(kept.exit == 1);
  CHECK_THAT(kept.out, Contains("stamped doubtful"));
  CHECK_THAT(program::content(saved), Contains("doubtful = \"more thrust than a perfect nozzle"));
  CHECK(run({"fire", saved}).exit == 0);
}

TEST_CASE("A builder with a peak and a time alone gets rate and efficiency") {
  // Three even segments behind a straight throat of 20/64 in: about 115 to 120 lbf for about two
  // thirds of a second, on a doubtful scale.
  Folder folder;
  const auto job = folder.file("job.toml", R"([casing]
bore = "1.62 in"
wall = "0.14 in"
grain_room = "7 1/2 in"
tube_wall = "0.06 in"
[propellant]
name = "kn-sucrose"
density_ratio = 0.95
[nozzle]
throat = "20/64 in"
efficiency = 0.85
[shop]
spacer = "1/16 in"
[[segment]]
count = 3
length = "2 7/16 in"
core = "3/8 in"
)");
  const auto summary = run({"fire", job, "--json"}).json()["summary"];
  const double pound_force = 4.4482216152605;
  // Within a factor of 1.5 of both.
  const double peak = summary["peak_thrust_N"].get<double>() / (117.5 * pound_force);
  const double time = summary["burn_time_s"].get<double>() / 0.667;
  checks::expect("ln predicted / seen peak thrust, straight 20/64 in throat",
                 checks::common_practice, 0, std::log(peak), checks::absolute(std::log(1.5)));
  checks::expect("ln predicted / seen burn time, straight 20/64 in throat", checks::common_practice,
                 0, std::log(time), checks::absolute(std::log(1.5)));
  const Run done = run({"stand", "--only-peak-and-time", "117.5 lbf, 0.667 s", "--job", job,
                        "--scale-error", "10 %", "--json"});
  INFO(done.err);
  REQUIRE(done.exit == 0);
  const auto fit = done.json()["stand"]["fit"];
  CHECK(fit["rate_m_s"].get<double>() > 0);
  CHECK(std::sqrt(fit["covariance"][2][2].get<double>()) > 0.1);
  CHECK_THAT(fit["words"].get<std::string>(), Contains("nothing of the exponent"));
}

TEST_CASE("stand prints the cleaned log beside the prediction as CSV") {
  Folder folder;
  const auto job = folder.file("job.toml", jobs::whole_motor);
  const auto log = folder.file("log.csv", own_log(job));
  const Run done = run({"stand", log, "--job", job, "--csv"});
  CHECK(done.out.starts_with("time_s,thrust_N,predicted_thrust_N,fitted_thrust_N\n"));
}

TEST_CASE("What stand cannot take is refused with what to give") {
  Folder folder;
  const auto job = folder.file("job.toml", jobs::whole_motor);
  const auto log = folder.file("log.csv", own_log(job));
  const auto refused = [&](std::vector<std::string> words, const std::string& why) {
    words.insert(words.begin(), "stand");
    const Run done = run(words);
    CHECK(done.exit == 2);
    CHECK_THAT(done.err, Contains(why));
  };
  refused({}, "LOG: not given");
  refused({log, "--save", "x.toml"}, "--job JOB");
  refused({log, "--job", job, "--hold", "c"}, "n, efficiency, web");
  refused({log, "--save-doubtful", "--job", job}, "--save FILE");
  refused({log, "--decimal", "dot"}, "point or comma");
  refused({log, "--from", "100 s"}, "--from and --to");
  refused({log, "--stand", "upside-down"}, "nozzle-up");
  refused({log, "--job", job, "--propellant", "20 kg"}, "density ratio");
  refused({log, "--job", job, "--with", "other.csv"}, "LOG=JOB");
  refused({log, "--scale-error", "300 %"}, "under 100 %");
  refused({"--only-peak-and-time", "5 N", "--job", job}, "a force and a time");
  refused({folder.file("words.csv", "nothing\nhere\n")}, "no row of numbers");
  CHECK(run({"stand", "nowhere.csv"}).exit == 3);
}
