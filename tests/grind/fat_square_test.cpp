// The two-source square against published problems, digit by digit.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <limits>
#include <string>

#include <tranche/grind/fat_square.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace fat_square_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr double whole_micrograms = 1e-9 / 0.45359237; // in pounds

double pounds(micrograms m) { return to_mass(m) / pound; }

/// To the cent a pound, as the problems print it.
std::string cents(unit_price<usd> price) { return to_text(price, price_basis::per_pound); }

} // namespace

TEST_CASE("square_for: solves the problem of 10 % and 25 % for 20 %") {
    // A worked problem of the trade: 1000 lb at 0.99 and 0.79 a pound; answers computed: 333.33 and 666.67 lb, 0.856667.
    const fat_square square = square_for(0.10, 0.25, 0.20);
    CHECK_THAT(square.parts_of_first(), WithinAbs(5.0, 1e-12));
    CHECK_THAT(square.parts_of_second(), WithinAbs(10.0, 1e-12));
    const detail::square_masses parts = square.masses(1000_lb);
    CHECK(to_text(to_mass(parts.first), hundredths_of_pound) == "333.33 lb");
    CHECK(to_text(to_mass(parts.second), hundredths_of_pound) == "666.67 lb");
    CHECK_THAT(pounds(parts.first), WithinAbs(1000.0 / 3.0, whole_micrograms));
    CHECK(parts.first + parts.second == to_micrograms(1000_lb));
    const unit_price<usd> price = square.price<usd>(0.99_usd / 1_lb, 0.79_usd / 1_lb);
    CHECK(to_text(price, price_basis::per_pound, 4) == "0.856667 USD/lb");
    CHECK_THAT((price * pound).value(), WithinRel(2.57 / 3.0, 1e-14)); // (0.99 + 2 × 0.79) / 3
}

// Georgia FFA, Senior Meats Evaluation, 2016 (read in the source): 500 lb at 28 % fat, six pairs of a fat and a lean source.
TEST_CASE("square_for: gives the published price of all six pairs, and the masses of the cheapest") {
    struct pair {
        double fat, fat_price, lean, lean_price;
        const char* published;
    };
    for (const pair& p : {pair{0.50, 1.89, 0.20, 2.45, "2.30 USD/lb"}, pair{0.50, 1.89, 0.23, 1.78, "1.80 USD/lb"},
                          pair{0.60, 1.69, 0.23, 1.78, "1.77 USD/lb"}, pair{0.60, 1.69, 0.20, 2.45, "2.30 USD/lb"},
                          pair{0.70, 1.56, 0.20, 2.45, "2.31 USD/lb"}, pair{0.70, 1.56, 0.23, 1.78, "1.76 USD/lb"}}) {
        INFO(p.fat << " and " << p.lean);
        const fat_square square = square_for(p.fat, p.lean, 0.28);
        const unit_price<usd> price = square.price<usd>(p.fat_price * 1_usd / 1_lb, p.lean_price * 1_usd / 1_lb);
        CHECK(cents(price) == p.published);
        // Exact: ((C - L) F + (F - C) L) / (F - L) in prices, from whole hundredths.
        const double exact =
            (std::round(100 * (0.28 - p.lean)) * p.fat_price + std::round(100 * (p.fat - 0.28)) * p.lean_price) /
            std::round(100 * (p.fat - p.lean));
        CHECK_THAT((price * pound).value(), WithinRel(exact, 1e-13));
        const fat_square turned = square_for(p.lean, p.fat, 0.28);
        CHECK(turned.price<usd>(p.lean_price * 1_usd / 1_lb, p.fat_price * 1_usd / 1_lb).value() ==
              Approx(price.value()).epsilon(1e-14));
    }
    const detail::square_masses cheapest = square_for(0.70, 0.23, 0.28).masses(500_lb);
    CHECK(to_text(to_mass(cheapest.first), hundredths_of_pound) == "53.19 lb");
    CHECK(to_text(to_mass(cheapest.second), hundredths_of_pound) == "446.81 lb");
    CHECK_THAT(pounds(cheapest.first), WithinAbs(500.0 * 5.0 / 47.0, whole_micrograms));
    CHECK_THAT(pounds(cheapest.second), WithinAbs(500.0 * 42.0 / 47.0, whole_micrograms));
}

TEST_CASE("square_for: gives 30.8 parts to 6.1 for 8.9 % and 45.8 % at 15 %") {
    // FFA meat calculations: read in the source.
    const fat_square square = square_for(0.089, 0.458, 0.15);
    CHECK(to_text(square.parts_of_first(), 1) == "30.8");
    CHECK(to_text(square.parts_of_second(), 1) == "6.1");
    // 45.8 - 15 and 15 - 8.9; a difference of shares below 1 is off by an ulp of 0.5, 1.2e-16, times 100.
    CHECK_THAT(square.parts_of_first(), WithinAbs(30.8, 2e-14));
    CHECK_THAT(square.parts_of_second(), WithinAbs(6.1, 2e-14));
    CHECK_THAT(square.share_of_first(), WithinRel(30.8 / 36.9, 1e-14));
    CHECK_THAT(square.share_of_first() + square.share_of_second(), WithinAbs(1.0, 1e-15));
}

TEST_CASE("square_for: is never fatter than the target, and misses it by less than a microgram of swap") {
    for (int target = 0; target <= 100; ++target)
        for (const std::int64_t batch : {1LL, 2LL, 7LL, 999'999'937LL}) {
            const detail::square_masses m = square_for(1.0, 0.0, target / 100.0).masses(to_mass({batch}));
            CHECK(m.first + m.second == micrograms{batch});
            CHECK(100 * m.first.count <= target * batch);
            CHECK(100 * (m.first.count + 1) > target * batch);
        }
}

TEST_CASE("square_for: takes a target on one of the sources") {
    const detail::square_masses all_lean = square_for(0.3, 0.1, 0.1).masses(1_kg);
    CHECK(all_lean.first.count == 0);
    CHECK(all_lean.second == to_micrograms(1_kg));
    const detail::square_masses pure = square_for(0.0, 1.0, 1.0).masses(1_kg);
    CHECK(pure.first.count == 0);
}

TEST_CASE("square_for: names what is wrong with the sources or the target") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(square_for(0.1, 0.25, 0.3),
                      StartsWith("target fat: got 30.00 %, expected between 10.00 % and 25.00 %"));
    CHECK_THROWS_WITH(square_for(0.25, 0.1, 0.05), StartsWith("target fat: got 5.00 %"));
    CHECK_THROWS_WITH(square_for(0.2, 0.2, 0.2), StartsWith("fat of the second source: got 20.00 %"));
    CHECK_THROWS_WITH(square_for(nan, 0.2, 0.2), StartsWith("fat of the first source: got nan"));
    CHECK_THROWS_WITH(square_for(0.1, 1.2, 0.2), StartsWith("fat of the second source: got 1.2"));
    CHECK_THROWS_WITH(square_for(0.1, 0.3, -0.2), StartsWith("target fat: got -0.2"));
    CHECK_THROWS_WITH(square_for(0.1, 0.3, 0.2).masses(0_kg), StartsWith("batch: got 0 g"));
    CHECK_THROWS_WITH(square_for(0.1, 0.3, 0.2).masses(1e10_kg), StartsWith("batch"));
}

TEST_CASE("fat_square: checks itself where it was filled in by hand") {
    const fat_square equal{0.2, 0.2, 0.2}, outside{0.1, 0.3, 0.4};
    const char* const same = "fat of the second source: got 20.00 %, expected another than that of the first";
    CHECK_THROWS_WITH(equal.masses(1_kg), StartsWith(same));
    CHECK_THROWS_WITH(equal.parts_of_first(), StartsWith(same));
    CHECK_THROWS_WITH(equal.parts_of_second(), StartsWith(same));
    CHECK_THROWS_WITH(equal.share_of_first(), StartsWith(same));
    CHECK_THROWS_WITH(equal.share_of_second(), StartsWith(same));
    CHECK_THROWS_WITH(equal.price<usd>(1_usd / 1_lb, 1_usd / 1_lb), StartsWith(same));
    CHECK_THROWS_WITH(outside.masses(1_kg), StartsWith("target fat: got 40.00 %"));
    const fat_square square = square_for(0.1, 0.3, 0.2);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(square.price<usd>(nan * 1_usd / 1_kg, 1_usd / 1_kg),
                      StartsWith("price of the first source: got nan USD/kg"));
    CHECK_THROWS_WITH(square.price<usd>(1_usd / 1_kg, -1_usd / 1_kg),
                      StartsWith("price of the second source: got -1 USD/kg"));
}

} // namespace fat_square_test
