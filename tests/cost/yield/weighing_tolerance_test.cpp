// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/yield/weighing_tolerance.hpp>

#include <limits>

#include <tranche/packs/scale_tolerance.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace weighing_tolerance_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

} // namespace

// NIST Handbook 44, table 6, class III: see `class_iii_divisions` for which rows were read in the source.
TEST_CASE("weighing_tolerance: allows by default what class III allows a scale of five grams, at any load") {
    const mass_division five_grams{mass_division::unit::kilograms, 200};
    for (int load = 5; load <= 60'000; load += 5) {
        const mass weight = static_cast<double>(load) * gram;
        const mass allowed = to_mass(weighing_tolerance{}.at(weight));
        INFO(load << " g");
        CHECK(allowed >= class_iii_maintenance_tolerance(weight, five_grams) * (1.0 - 1e-15));
    }
}

TEST_CASE("weighing_tolerance: is the larger of a weight and a share") {
    CHECK(weighing_tolerance{}.at(1_kg) == to_micrograms(5_g));
    CHECK(weighing_tolerance{}.at(5_kg) == to_micrograms(20_g));
    CHECK(weighing_tolerance{2_g, 0.01}.at(100_g) == to_micrograms(2_g));
    CHECK(weighing_tolerance{2_g, 0.01}.at(1_kg) == to_micrograms(10_g));
    const weighing_tolerance stated = 5_g;
    CHECK(stated.at(1000_kg) == to_micrograms(5_g));
}

TEST_CASE("weighing_tolerance: never holds a microgram against a weight, and nothing else where it is zero") {
    const weighing_tolerance none = mass{};
    CHECK(none.allows(to_mass({5'000'000'001}), 5_kg));
    CHECK_FALSE(none.allows(to_mass({5'000'000'002}), 5_kg));
    CHECK(none.allows(mass{}, 5_kg));
    CHECK(weighing_tolerance{}.allows(5.020_kg, 5_kg));
    CHECK_FALSE(weighing_tolerance{}.allows(5.0201_kg, 5_kg));
    CHECK_FALSE(weighing_tolerance{}.allows(not_a_number * kilogram, 5_kg));
    CHECK_FALSE(weighing_tolerance{}.allows(infinity * kilogram, 5_kg));
}

TEST_CASE("weighing_tolerance: refuses what is none by name") {
    CHECK_THROWS_WITH(validate(weighing_tolerance{-1_g}), StartsWith("scale_tolerance: got -1 g"));
    CHECK_THROWS_WITH(validate(weighing_tolerance{not_a_number * gram}), StartsWith("scale_tolerance: got nan"));
    CHECK_THROWS_WITH(validate(weighing_tolerance{infinity * gram}), StartsWith("scale_tolerance: got inf"));
    CHECK_THROWS_WITH(validate(weighing_tolerance{1_g, 1.5}), StartsWith("scale_tolerance: share: got 1.5"));
    CHECK_THROWS_WITH(weighing_tolerance(1_g, not_a_number).at(1_kg), StartsWith("scale_tolerance: share: got nan"));
}

} // namespace weighing_tolerance_test
