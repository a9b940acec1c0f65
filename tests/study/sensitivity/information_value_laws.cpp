// How often intervals of the value of information hold the truth, and how it closes in with more points and classes.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/sensitivity/information_value.hpp>

#include <cmath>
#include <cstdint>
#include <numbers>
#include <span>

#include "support/catch.hpp"

namespace information_value_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

/// To do nothing, or something that is worth a + b: of the normal a of spread s, E max(0, s z) = s / √(2π).
void worths(std::span<const double> z, std::span<double> out) {
    out[0] = 0.0;
    out[1] = z[0] + z[1];
}
study_inputs normals() {
    return study_inputs({{"a", distribution::normal(0.0, 2.0)}, {"b", distribution::normal(0.0, 1.0)}});
}

} // namespace

TEST_CASE("value of information: nominal 95 % intervals hold the truth in as many repetitions at least") {
    int held = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const information_values found =
            value_of_information(normals(), {"leave it", "do it"}, worths, {.points = 256, .seed = seed});
        for (std::size_t i = 0; i < 2; ++i) {
            const double truth = (i == 0 ? 2.0 : 1.0) / std::sqrt(2.0 * std::numbers::pi);
            held += found.inputs[i].interval.low <= truth && truth <= found.inputs[i].interval.high;
        }
    }
    CAPTURE(held);
    CHECK(held >= 108); // of 120: 114 ± 2.4, and the loss of classes
}

TEST_CASE("value of information: the two bounds close in on the truth") {
    const double truth = 2.0 / std::sqrt(2.0 * std::numbers::pi);
    double before = 1.0;
    for (const std::uint32_t points : {64U, 1024U, 16384U}) {
        const information_value v =
            value_of_information(normals(), {"leave it", "do it"}, worths, {.points = points, .classes = 64}).inputs[0];
        const double wide = v.interval.high - v.interval.low;
        CAPTURE(points, v.text());
        CHECK(wide < 0.5 * before);
        CHECK(std::abs(v.gain - truth) < 0.5 * wide + 0.002);
        before = wide;
    }
}

} // namespace information_value_laws
