// One place for every way to write it, and what ties, huge lengths and shares become.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <limits>
#include <random>

#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

using namespace tranche;
using namespace tranche::literals;
using tranche::detail::in_grains;
using tranche::detail::snapped;
using tranche::detail::snapped_share;

TEST_CASE("one place is one double in any unit once it is snapped") {
    CHECK(33.8_cm != 338_mm); // what snapping is there for
    CHECK(snapped(33.8_cm) == snapped(338_mm));
    CHECK(snapped(338_mm) == snapped(0.338_m));
    CHECK(12_in != 1_ft);
    CHECK(snapped(12_in) == snapped(1_ft));
    CHECK(snapped(1_in) == snapped(25.4_mm));
    CHECK(snapped(38_in) == snapped(96.52_cm));
}

TEST_CASE("whole micrometres and 128ths of an inch are whole numbers of grains") {
    for (int micrometres = 0; micrometres < 3'000'000; micrometres += 271) {
        const double metres = micrometres / 1e6, exact = 16.0 * micrometres;
        CHECK(in_grains(metres * metre) == exact);
        CHECK(in_grains(micrometres / 1e3 * millimetre) == exact);
        CHECK(in_grains(micrometres / 1e4 * centimetre) == exact);
    }
    // 1 in = 25.4 mm (NIST Handbook 44, appendix C) = 406,400 grains, so 1/128 in is 3,175 of them.
    for (int parts = 0; parts < 128 * 40; ++parts) {
        const double exact = 3175.0 * parts;
        CHECK(in_grains(parts / 128.0 * inch) == exact);
        CHECK(in_grains(parts / 128.0 / 12.0 * foot) == exact);
        CHECK(in_grains(parts / 128.0 * 25.4 * millimetre) == exact);
    }
}

TEST_CASE("a half of a grain goes up however it was written") {
    // 1/256 in = 99.21875 um = 1587.5 grains.
    for (int odd = 1; odd < 256 * 20; odd += 2) {
        const double up = (3175.0 * odd + 1.0) / 2.0;
        CHECK(in_grains(odd / 256.0 * inch) == up);
        CHECK(in_grains(odd / 256.0 * 2.54 * centimetre) == up);
        CHECK(in_grains(odd * 99.21875e-6 * metre) == up);
    }
}

TEST_CASE("snapping moves a length by half a grain at most and a second time not at all") {
    std::mt19937_64 random(1);
    std::uniform_real_distribution<double> any(-3.0, 3.0);
    for (int i = 0; i < 10'000; ++i) {
        const length l = any(random) * metre, once = snapped(l);
        CHECK(std::abs((once - l).value()) <= 0.501 / 1.6e7); // halves that go up are 2^-10 wide
        CHECK(snapped(once) == once);
        CHECK(once.value() == in_grains(l) / 1.6e7);
    }
}

TEST_CASE("sums and differences of snapped lengths are exact in grains") {
    std::mt19937_64 random(2);
    std::uniform_int_distribution<int> any(0, 16'000'000);
    for (int i = 0; i < 10'000; ++i) {
        const int a = any(random), b = any(random);
        const length x = a / 1.6e7 * metre, y = b / 1.6e7 * metre;
        CHECK(in_grains(x + y) == static_cast<double>(a) + b);
        CHECK(in_grains(x - y) == static_cast<double>(a) - b);
    }
}

TEST_CASE("what has no end and what is no number stay what they are") {
    CHECK(snapped(unlimited<length>()) == unlimited<length>());
    CHECK(std::isnan(snapped(std::numeric_limits<double>::quiet_NaN() * metre).value()));
    CHECK(snapped(1e300 * metre) == 1e300 * metre);
    CHECK(snapped(quantity_range<length>{}) == quantity_range<length>{});
    CHECK(snapped(quantity_range<length>{1_ft, 33.8_cm}) == quantity_range<length>{snapped(12_in), snapped(338_mm)});
    CHECK(snapped(quantity_range<mass>{1_oz, 12_oz}) == quantity_range<mass>{1_oz, 12_oz});
}

TEST_CASE("a share that was stated and one that came out of areas are one number once snapped") {
    CHECK(0.1 + 0.2 != 0.3);
    CHECK(snapped_share(0.1 + 0.2) == 0.3);
    CHECK(snapped_share(0.15) == 0.15);
    CHECK(snapped_share(0.3 * (71.0 / 142.0)) == 0.15);
    CHECK(snapped_share(0.0) == 0.0);
    CHECK(snapped_share(1.0) == 1.0);
    CHECK(snapped_share(2.0) == 2.0); // no share: for `validate` to refuse
    CHECK(std::isnan(snapped_share(std::numeric_limits<double>::quiet_NaN())));
    for (int parts = 0; parts <= 1000; ++parts) CHECK(snapped_share(parts / 1000.0) == parts / 1000.0);
}
