// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/kitchen_units.hpp>

#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace kitchen_units_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a number without its unit is what stands in front of the unit") {
    CHECK(number_of(12.25_oz, us_kitchen.portion) == "12 1/4");
    CHECK(number_of(340.2_g, metric_kitchen.portion) == "340");
    CHECK(number_of(5.398_kg, metric_kitchen.bulk) == "5.398");
    CHECK(number_of(1.25_in, us_kitchen.thickness) == "1 1/4");
    CHECK(number_of(32.0_mm, metric_kitchen.along) == "32");
    // Pounds and ounces write two units, so they keep them.
    CHECK(number_of(12.375_lb, us_kitchen.bulk) == "12 lb 6 oz");
}

TEST_CASE("each division names its unit and its smallest step") {
    CHECK(std::string(unit_name(us_kitchen.portion)) == "oz");
    CHECK(std::string(unit_name(us_kitchen.bulk)).empty());
    CHECK(std::string(unit_name(hundredths_of_pound)) == "lb");
    CHECK(std::string(unit_name(metric_kitchen.bulk)) == "kg");
    CHECK(std::string(unit_name(tenths_of_centimetre)) == "cm");
    CHECK(smallest_step(us_kitchen.portion) == "1/4 oz");
    CHECK(smallest_step(us_kitchen.bulk) == "1/4 oz");
    CHECK(smallest_step(us_kitchen.along) == "1/16 in");
    CHECK(smallest_step(metric_kitchen.bulk) == "0.001 kg");
    CHECK(smallest_step(metric_kitchen.thickness) == "1 mm");
}

} // namespace kitchen_units_test
