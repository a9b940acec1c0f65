// SPDX-License-Identifier: BSL-1.0
#include <limits>

#include <tranche/cost/scale_tolerance.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace scale_tolerance_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("class_iii_divisions: has the rows of the handbook's table") {
    // NIST Handbook 44, Table 6, class III, maintenance: to 500 divisions 1, to 2000 2 (read in the source); to 4000 3,
    // above 5 (from memory).
    const mass_division grams = whole_grams;
    CHECK(class_iii_divisions(1_g, grams) == 1);
    CHECK(class_iii_divisions(500_g, grams) == 1);
    CHECK(class_iii_divisions(501_g, grams) == 2);
    CHECK(class_iii_divisions(2000_g, grams) == 2);
    CHECK(class_iii_divisions(2001_g, grams) == 3);
    CHECK(class_iii_divisions(4000_g, grams) == 3);
    CHECK(class_iii_divisions(4001_g, grams) == 5);
    CHECK(class_iii_divisions(9_kg, grams) == 5);
    // 5 lb on a scale of hundredths are 500 divisions exactly, in micrograms as near as they come.
    CHECK(class_iii_divisions(5.01_lb, hundredths_of_pound) == 2);
    CHECK(class_iii_divisions(4.99_lb, hundredths_of_pound) == 1);
    CHECK_THAT(class_iii_maintenance_tolerance(30_lb, hundredths_of_pound) / 1_lb, WithinRel(0.03, 1e-12));
}

TEST_CASE("check_scale: lets an error as large as the tolerance pass, either way") {
    const mass_division five_grams{mass_division::unit::kilograms, 200};
    const scale_check high = check_scale(5_kg, 5.010_kg, five_grams); // 1000 divisions: two
    CHECK(high.within);
    CHECK(high.tolerance == 10_g);
    CHECK_THAT(high.error / 1_g, WithinRel(10.0, 1e-12));
    CHECK(check_scale(5_kg, 4.990_kg, five_grams).within);
    CHECK_FALSE(check_scale(5_kg, 5.015_kg, five_grams).within);
    CHECK_FALSE(check_scale(5_kg, 4.985_kg, five_grams).within);
    // 5.01 lb are 2272497773.7 micrograms: to whole ones the error is more than a division of 0.01 lb, and it is one.
    CHECK(check_scale(5_lb, 5.01_lb, hundredths_of_pound).within);
    CHECK(check_scale(5_lb, 4.99_lb, hundredths_of_pound).within);
    CHECK_FALSE(check_scale(5_lb, 5.02_lb, hundredths_of_pound).within);
}

TEST_CASE("check_scale: names the field of a bad input") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(check_scale(0_kg, 1_kg, whole_grams), StartsWith("load: got 0 g"));
    CHECK_THROWS_WITH(check_scale(1_kg, nan * 1_kg, whole_grams), StartsWith("indicated: got nan"));
    CHECK_THROWS_WITH(class_iii_divisions(1_kg, pounds_and_whole_ounces), StartsWith("division"));
}

} // namespace scale_tolerance_test
