// What a part may be, and how parts that do not fit the whole are refused.
// SPDX-License-Identifier: BSL-1.0
#include <limits>
#include <string>
#include <vector>

#include <tranche/cost/yield/weighed_part.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace weighed_part_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

const purchase<eur> five_kilograms{.weight = 5_kg, .price = 12_eur / 1_kg};

void test_of(const std::vector<weighed_part<eur>>& parts, mass tolerance = mass{}) {
    static_cast<void>(cutting_yield_test(five_kilograms, parts, tolerance));
}

} // namespace

TEST_CASE("weighed_part: a loss has no value and goes nowhere") {
    const weighed_part<eur> steaks{"steaks", 4_kg, part_role::usable, {}};
    CHECK_THROWS_WITH(test_of({steaks, {"purge", 1_kg, part_role::loss, 2_eur / 1_kg}}),
                      StartsWith("purge: value: got 2 EUR/kg, expected none, because the part is a loss"));
    CHECK_THROWS_WITH(test_of({steaks, {"fat", 1_kg, part_role::loss, -0.1_eur / 1_kg}}),
                      StartsWith("fat: value: got -0.1 EUR/kg"));
    CHECK_THROWS_WITH(test_of({steaks, {"fat", 1_kg, part_role::loss, {}, "rendering"}}),
                      StartsWith("fat: goes_to: got \"rendering\", expected nothing"));
    CHECK_NOTHROW(test_of({steaks, {"fat", 1_kg, part_role::by_product, {}, "rendering"}}));
}

TEST_CASE("weighed_part: says where it goes, in its own words or by its role") {
    CHECK(detail::destination_text(weighed_part<eur>{.role = part_role::usable}) == "portions");
    CHECK(detail::destination_text(weighed_part<eur>{.role = part_role::by_product}) == "by-products");
    CHECK(detail::destination_text(weighed_part<eur>{.role = part_role::loss}) == "lost");
    CHECK(detail::destination_text(weighed_part<eur>{.role = part_role::by_product, .goes_to = "stock"}) == "stock");
}

TEST_CASE("weighed_part: may cost something to be rid of") {
    const auto test =
        cutting_yield_test<eur>(five_kilograms, {{"steaks", 4_kg, part_role::usable, {}},
                                                 {"bones", 1_kg, part_role::by_product, -0.5_eur / 1_kg}});
    CHECK(test.credit == amount<eur>{-50});
    CHECK(test.primary_value == amount<eur>{6050});
}

TEST_CASE("cutting_yield_test: names a part that is heavier than the whole") {
    CHECK_THROWS_WITH(
        test_of({{"steaks", 5.2_kg, part_role::usable, {}}}),
        StartsWith("steaks: weight: got 5200 g, expected no more than the weight of the purchase, 5000 g"));
    // Within the tolerance it is the scale's fault, and shows as less than nothing unaccounted for.
    const auto test = cutting_yield_test<eur>(five_kilograms, {{"steaks", 5.02_kg, part_role::usable, {}}}, 50_g);
    CHECK(test.lines.back().weight.count == -20'000'000);
    CHECK_THROWS_WITH(test_of({{"steaks", 3_kg, part_role::usable, {}}, {"trim", 2.1_kg, part_role::loss, {}}}, 50_g),
                      ContainsSubstring("5100 g in all") &&
                          ContainsSubstring("they miss it by -100 g, more than the 50 g of the scale"));
}

TEST_CASE("cutting_yield_test: adds up parts whose sum is beyond 64 bits without losing any") {
    const mass whole = mass::from_value(9.1e9); // kilograms
    const std::vector<weighed_part<eur>> parts(3, {"lot", whole, part_role::usable, {}});
    CHECK_THROWS_WITH(cutting_yield_test<eur>({.weight = whole, .price = {}}, parts),
                      StartsWith("parts: got 2.73e+13 g in all") && ContainsSubstring("miss it by -1.82e+13 g"));
}

TEST_CASE("cutting_yield_test: refuses parts and tolerances that are no weights") {
    const double nan = std::numeric_limits<double>::quiet_NaN(), infinity = std::numeric_limits<double>::infinity();
    CHECK_THROWS_WITH(test_of({{"trim", nan * 1_g, part_role::loss, {}}}), StartsWith("trim: weight: got nan"));
    CHECK_THROWS_WITH(test_of({{"trim", infinity * 1_g, part_role::loss, {}}}), StartsWith("trim: weight: got inf"));
    CHECK_THROWS_WITH(test_of({{"trim", 5_kg, part_role::loss, {}}}, -1_g), StartsWith("scale_tolerance: got -1 g"));
    CHECK_THROWS_WITH(test_of({{"trim", 5_kg, part_role::loss, {}}}, 1e10_kg), StartsWith("scale_tolerance"));
}

} // namespace weighed_part_test
