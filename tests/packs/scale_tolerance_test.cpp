// SPDX-License-Identifier: BSL-1.0
#include <limits>
#include <utility>

#include <tranche/packs/scale_tolerance.hpp>
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
    CHECK(class_iii_divisions(5_lb, hundredths_of_pound) == 1);
    CHECK(class_iii_divisions(80_oz, hundredths_of_pound) == 1);
    CHECK(class_iii_divisions(125_oz, quarter_ounces) == 1);
    CHECK_THAT(class_iii_maintenance_tolerance(30_lb, hundredths_of_pound) / 1_lb, WithinRel(0.03, 1e-12));
}

TEST_CASE(
    "class_iii_divisions: has a load on the last division of a row in that row, whatever its unit and last bits") {
    using unit = mass_division::unit;
    for (const unit in : {unit::grams, unit::kilograms, unit::ounces, unit::pounds})
        for (const int parts : {1, 2, 4, 8, 16, 10, 20, 50, 100, 200, 500, 1000, 2000})
            for (const auto& [divisions, row] : {std::pair{500, 1}, std::pair{2000, 2}, std::pair{4000, 3}}) {
                const mass_division d{in, parts};
                const mass load = static_cast<double>(divisions) * size_of(d);
                for (const mass& same : {load, 0.3 * load + 0.7 * load, load / pound * 16.0 * ounce,
                                         load / ounce * (pound / 16.0), load / gram * gram}) {
                    CAPTURE(parts, divisions);
                    CHECK(class_iii_divisions(same, d) == row);
                    CHECK(class_iii_divisions(same * (1.0 + 1e-12), d) == (row == 3 ? 5 : row + 1));
                    // So is an error as large as the tolerance within it, and one a trillionth larger not.
                    const mass most = static_cast<double>(row) * size_of(d);
                    CHECK(scale_compliance(load, same + most, d).within);
                    CHECK(scale_compliance(load, same - most, d).within);
                    CHECK_FALSE(scale_compliance(load, (same + most) * (1.0 + 1e-12), d).within);
                    CHECK_FALSE(scale_compliance(load, (same - most) * (1.0 - 1e-12), d).within);
                }
            }
}

TEST_CASE("scale_compliance: lets an error as large as the tolerance pass, either way") {
    const mass_division five_grams{mass_division::unit::kilograms, 200};
    const tested_scale high = scale_compliance(5_kg, 5.010_kg, five_grams); // 1000 divisions: two
    CHECK(high.within);
    CHECK(high.tolerance == 10_g);
    CHECK_THAT(high.error / 1_g, WithinRel(10.0, 1e-12));
    CHECK(scale_compliance(5_kg, 4.990_kg, five_grams).within);
    CHECK_FALSE(scale_compliance(5_kg, 5.015_kg, five_grams).within);
    CHECK_FALSE(scale_compliance(5_kg, 4.985_kg, five_grams).within);
    CHECK(scale_compliance(5_lb, 5.01_lb, hundredths_of_pound).within);
    CHECK(scale_compliance(5_lb, 4.99_lb, hundredths_of_pound).within);
    CHECK_FALSE(scale_compliance(5_lb, 5.02_lb, hundredths_of_pound).within);
}

TEST_CASE("scale_compliance: names the field of a bad input") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(scale_compliance(0_kg, 1_kg, whole_grams), StartsWith("load: got 0 g"));
    CHECK_THROWS_WITH(scale_compliance(1_kg, nan * 1_kg, whole_grams), StartsWith("indicated: got nan"));
    CHECK_THROWS_WITH(class_iii_divisions(1e15 * 1_g, whole_grams), StartsWith("load: got"));
    CHECK_THROWS_WITH(class_iii_divisions(1_kg, pounds_and_whole_ounces), StartsWith("division"));
}

} // namespace scale_tolerance_test
