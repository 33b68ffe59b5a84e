// SPDX-License-Identifier: GPL-3.0-or-later
#include "grainwright/motor/web_factor.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "support/checks.hpp"

namespace gw = grainwright;

TEST_CASE("A factor over the web is the parabola through its three numbers") {
  const gw::WebFactor f{1.2, 1.0, 0.9};
  CHECK(f(0) == 1.2);
  CHECK(f(0.5) == Approx(1.0));
  CHECK(f(1) == Approx(0.9));
  CHECK(f(-1) == 1.2);
  CHECK(f(2) == Approx(0.9));
  CHECK(f.greatest() == 1.2);
  CHECK(gw::WebFactor{1, 1.1, 1}.greatest() == Approx(1.1));
  CHECK(gw::WebFactor{1, 0.8, 1}.least() == Approx(0.8));
}

TEST_CASE("Its mean is harmonic: what burns as long") {
  // Falling in a straight line from 1 + d to 1 - d: the integral of 1 / f is artanh(d) / d.
  const double d = 0.2;
  const gw::WebFactor falling{1 + d, 1, 1 - d};
  checks::expect("harmonic mean of a rate that falls by two fifths", checks::closed_form,
                 d / std::atanh(d), falling.mean(), checks::relative(1e-12));
  CHECK(falling.levelled().mean() == Approx(1).epsilon(1e-13));
  CHECK(falling.passed(1) == Approx(1 / falling.mean()));
}

TEST_CASE("A factor too far from 1 is refused, where it stands or between") {
  CHECK(gw::complaints(gw::WebFactor{}).empty());
  CHECK(gw::complaints({0.4, 1, 1}).front().key == "web_factor.start");
  CHECK(gw::complaints({1, 1, 2.5}).front().key == "web_factor.end");
  CHECK(gw::complaints({0.55, 0.5, 1.2}).front().key == "web_factor");
}
