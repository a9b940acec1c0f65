// That micrograms count exactly and that what does not fit is refused.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <concepts>
#include <cstdint>
#include <limits>
#include <optional>
#include <random>
#include <type_traits>
#include <vector>

#include <tranche/units/literals.hpp>
#include <tranche/units/micrograms.hpp>

namespace micrograms_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

static_assert(sizeof(micrograms) == sizeof(std::int64_t) && std::is_trivially_copyable_v<micrograms>);
static_assert(std::regular<micrograms> && std::totally_ordered<micrograms>);
static_assert(!std::convertible_to<micrograms, mass> && !std::convertible_to<mass, micrograms>);
static_assert(micrograms{} == micrograms{0} && micrograms{3} - micrograms{5} == micrograms{-2});

TEST_CASE("a mass becomes the nearest whole microgram, halves away from zero") {
    CHECK(to_micrograms(1_kg).count == 1'000'000'000);
    // 28.349523125 g (NIST Handbook 44, appendix C: quoted) is 28 349 523.125 micrograms.
    CHECK(to_micrograms(1_oz).count == 28'349'523);
    CHECK(to_micrograms(1_lb).count == 453'592'370);
    CHECK(to_micrograms(mass{}).count == 0);
    CHECK(to_micrograms(mass::from_value(0.5e-9)).count == 1);
    CHECK(to_micrograms(mass::from_value(-0.5e-9)).count == -1);
    CHECK(to_micrograms(mass::from_value(0.49e-9)).count == 0);
    CHECK(to_micrograms(-1_lb).count == -453'592'370);
}

TEST_CASE("a mass that is not finite or beyond nine million tonnes is refused by its field") {
    const double bad = GENERATE(std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                                -std::numeric_limits<double>::infinity(), 9.3e9, -9.3e9, 1e300);
    try {
        (void)to_micrograms(mass::from_value(bad), "scale weight");
        FAIL("accepted " << bad << " kg");
    } catch (const invalid_input& e) {
        CHECK(e.field() == "scale weight");
        CHECK(e.expected() == "a finite mass");
        CHECK_THAT(e.value(), EndsWith(" g"));
    }
}

TEST_CASE("micrograms turn into a mass and back unchanged") {
    // Below 2^53 micrograms (nine tonnes) the count is exact in a double, the quotient is off by half a unit in the last
    // place and the product by another: less than half a microgram below 2^52.
    std::mt19937_64 random(20240117);
    for (int i = 0; i < 20000; ++i) {
        const auto count = static_cast<std::int64_t>(random() >> (13 + random() % 50));
        REQUIRE(to_micrograms(to_mass({count})).count == count);
        REQUIRE(to_micrograms(to_mass({-count})).count == -count);
    }
}

TEST_CASE("sums and differences of masses are exact or refused") {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
    constexpr std::int64_t least = std::numeric_limits<std::int64_t>::min();
    static_assert(micrograms{most - 1} + micrograms{1} == micrograms{most});
    static_assert(micrograms{least} - micrograms{-1} == micrograms{least + 1});
    // Against 128 bits, which hold every sum: counts of any size, up to the ends of 64 bits.
    __extension__ using wide = __int128;
    std::mt19937_64 random(20240118);
    const auto some = [&] {
        const auto size = static_cast<std::int64_t>(random() >> (1 + random() % 63));
        return random() % 8 == 0 ? most - size % 3 : random() % 8 == 0 ? least + size % 3 : random() % 2 ? size : -size;
    };
    const auto result = [](auto sum) -> std::optional<std::int64_t> {
        try {
            return sum().count;
        } catch (const invalid_input& e) {
            CHECK(e.field() == "mass");
            CHECK(e.expected() == "one below 9.2 million tonnes");
            return std::nullopt;
        }
    };
    int refused = 0;
    for (int i = 0; i < 20000; ++i) {
        const micrograms a{some()}, b{some()};
        micrograms up = a, down = a;
        const auto check = [&](wide expected, const std::optional<std::int64_t>& found) {
            REQUIRE(found.has_value() == (expected >= least && expected <= most));
            if (found) REQUIRE(*found == static_cast<std::int64_t>(expected));
            if (!found) ++refused;
        };
        check(wide{a.count} + b.count, result([&] { return a + b; }));
        check(wide{a.count} + b.count, result([&] { return up += b; }));
        check(wide{a.count} - b.count, result([&] { return a - b; }));
        check(wide{a.count} - b.count, result([&] { return down -= b; }));
    }
    CHECK(refused > 100);
}

TEST_CASE("the parts of a loin add up to it in any order") {
    std::mt19937 random(7);
    for (int round = 0; round < 200; ++round) {
        micrograms whole, there, back;
        std::vector<micrograms> parts(1 + random() % 30);
        for (auto& part : parts) whole += part = {static_cast<std::int64_t>(random())};
        for (auto part = parts.begin(); part != parts.end(); ++part) there += *part;
        for (auto part = parts.rbegin(); part != parts.rend(); ++part) back += *part;
        REQUIRE(there == whole);
        REQUIRE(back == whole);
        for (const micrograms part : parts) whole -= part;
        REQUIRE(whole == micrograms{});
    }
}

} // namespace micrograms_test
