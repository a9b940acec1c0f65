// The fill of a superellipse against Boost.Math: its gamma function, and quadrature of the outline.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>

#include <boost/math/quadrature/tanh_sinh.hpp>
#include <boost/math/special_functions/gamma.hpp>

#include <tranche/loin/tape/taped_face.hpp>

namespace taped_face_oracle {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("the fill of a superellipse is the one that another gamma function gives") {
    for (double n = 0.2; n < 100.0; n *= 1.1) {
        CAPTURE(n);
        const double g = boost::math::tgamma(1.0 + 1.0 / n);
        // Three gamma functions, each good to some ten units in the last place, here and there.
        CHECK_THAT(superellipse_fill(n), WithinRel(g * g / boost::math::tgamma(1.0 + 2.0 / n), 2 * 30 * 1.2e-16));
    }
}

TEST_CASE("the fill of a superellipse is the area inside its outline") {
    boost::math::quadrature::tanh_sinh<double> integrator;
    for (double n = 0.7; n < 12.0; n *= 1.2) {
        CAPTURE(n);
        // A quarter of |x|^n + |y|^n = 1 over the unit square. The quadrature stops when two levels agree to the square
        // root of the precision and is then good to about the precision itself; a hundred units in the last place.
        const double fill =
            integrator.integrate([n](double x) { return std::pow(1.0 - std::pow(x, n), 1.0 / n); }, 0.0, 1.0);
        CHECK_THAT(superellipse_fill(n), WithinRel(fill, 100 * 2.3e-16));
    }
}

} // namespace taped_face_oracle
