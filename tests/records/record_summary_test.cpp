// Summaries that can be done by hand, and what a short record leaves open.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/records/record_summary.hpp>
#include <tranche/units/literals.hpp>

#include "records/invented_records.hpp"
#include "support/catch.hpp"
#include "support/reference_sets.hpp"

namespace record_summary_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;
using reference_sets::digits;

namespace {

cutting_record test_of(const char* supplier, int day, double yield, std::optional<double> predicted = std::nullopt) {
    return {.date = invented_cuts::day(day),
            .supplier = supplier,
            .bought = 1000_g,
            .usable = yield * 1000_g,
            .predicted_yield = predicted};
}

} // namespace

TEST_CASE("yields are summarised for each supplier and for all") {
    const std::vector<cutting_record> records{test_of("south", 10, 0.70), test_of("north", 0, 0.72),
                                              test_of("north", 20, 0.74), test_of("north", 10, 0.76)};
    const record_summary s = summarise_records(records);
    REQUIRE(s.by_supplier.size() == 2);
    CHECK(s.by_supplier[0].supplier == "north");
    CHECK(s.by_supplier[0].yield.count == 3);
    CHECK_THAT(s.by_supplier[0].yield.mean, WithinRel(0.74, 1e-14));
    CHECK_THAT(*s.by_supplier[0].yield.standard_deviation, WithinRel(0.02, 1e-12)); // 0.72, 0.74, 0.76
    // 0.72, 0.76, 0.74 on days 0, 10, 20: slope (0.74 - 0.72) / 20 by symmetry.
    CHECK_THAT(s.by_supplier[0].trend->slope, WithinRel(0.001, 1e-12));
    CHECK(s.by_supplier[0].trend->slope_interval);
    CHECK(s.by_supplier[0].first == invented_cuts::day(0));
    CHECK(s.by_supplier[0].last == invented_cuts::day(20));
    CHECK(s.by_supplier[1].yield.count == 1);
    CHECK_FALSE(s.by_supplier[1].yield.standard_deviation);
    CHECK_FALSE(s.by_supplier[1].trend);
    CHECK(s.all.supplier.empty());
    CHECK_THAT(s.all.yield.mean, WithinRel(0.73, 1e-14));
    REQUIRE(s.suppliers);
    CHECK(s.suppliers->within_degrees == 2.0);
    CHECK_FALSE(s.all.against_plan);
}

TEST_CASE("one record alone has a yield and says that nothing else is known") {
    const record_summary s = summarise_records({test_of("north", 0, 0.72, 0.75)});
    CHECK_THAT(s.all.yield.mean, WithinRel(0.72, 1e-14));
    CHECK_FALSE(s.all.yield.standard_deviation);
    CHECK_FALSE(s.all.yield.interval);
    CHECK_FALSE(s.all.trend);
    CHECK_FALSE(s.suppliers);
    CHECK_THAT(s.all.against_plan->mean, WithinRel(-0.03, 1e-13));
    CHECK_FALSE(s.all.against_plan->interval);
    CHECK_FALSE(chart_yields(std::vector<cutting_record>{test_of("north", 0, 0.72)}).chart.limits);
}

TEST_CASE("the bias of the plans is the mean of cut less planned over the tests with a plan") {
    const record_summary s = summarise_records(
        {test_of("a", 0, 0.70, 0.72), test_of("a", 1, 0.71), test_of("b", 2, 0.74, 0.73), test_of("a", 3, 0.69, 0.73)});
    REQUIRE(s.all.against_plan);
    CHECK(s.all.against_plan->count == 3);
    CHECK_THAT(s.all.against_plan->mean, WithinRel(-0.05 / 3.0, 1e-12)); // -0.02, 0.01, -0.04
    CHECK_THAT(*s.all.against_plan->standard_deviation, WithinRel(std::sqrt(0.0019 / 3.0), 1e-12)); // by hand
    CHECK_THAT(s.all.against_plan->interval->high - s.all.against_plan->mean,
               WithinRel(student_t(0.95, 2) * std::sqrt(0.0019 / 9.0), 1e-12));
    // Of each supplier: -0.02 and -0.04, half of their difference on either side; and 0.01 alone.
    const sample_summary& of_a = *s.by_supplier[0].against_plan;
    CHECK(of_a.count == 2);
    CHECK_THAT(of_a.mean, WithinRel(-0.03, 1e-12));
    CHECK_THAT(of_a.interval->high - of_a.mean, WithinRel(student_t(0.95, 1) * 0.01, 1e-12));
    CHECK_THAT(s.by_supplier[1].against_plan->mean, WithinRel(0.01, 1e-12));
    CHECK_FALSE(s.by_supplier[1].against_plan->interval);
    CHECK_FALSE(summarise_records({test_of("a", 0, 0.70, 0.72), test_of("c", 1, 0.71)}).by_supplier[1].against_plan);
}

TEST_CASE("suppliers are told apart as the certified instruments are") {
    // SiRstv (reference_sets.hpp) as yields in thousandths: instruments as suppliers. Ratios of squares do not change.
    std::vector<cutting_record> records;
    const auto groups = reference_sets::sirstv();
    for (std::size_t g = 0; g < groups.size(); ++g)
        for (std::size_t i = 0; i < groups[g].size(); ++i)
            records.push_back(test_of(("supplier " + std::to_string(g)).c_str(), int(i), groups[g][i] / 1000.0));
    const record_summary s = summarise_records(records);
    REQUIRE(s.suppliers);
    CHECK(digits(*s.suppliers->f, 1.18046237440255) > 10.0); // and one more rounding of each value
    CHECK(digits(s.suppliers->within_squares * 1e6, 2.16636560E-01) > 10.0);
}

TEST_CASE("the trend over days is that of the certified line") {
    // Norris (reference_sets.hpp): x as days in tenths, y as yields in parts of 2,000; so the slope is B1 x 10 / 10 / 2000.
    std::vector<cutting_record> records;
    for (const auto& [y, x] : reference_sets::norris)
        records.push_back(test_of("a", int(std::lround(10.0 * x)), y / 2000.0));
    const record_summary s = summarise_records(records);
    REQUIRE(s.all.trend);
    CHECK(digits(s.all.trend->slope * 20000.0, 1.00211681802045) > 12.5); // and one more rounding of each value
    CHECK(digits(*s.all.trend->slope_deviation * 20000.0, 0.429796848199937E-03) > 10.5);
}

TEST_CASE("a chart of yields has its records beside its values in order of time") {
    std::vector<cutting_record> records;
    for (int i = 0; i < 20; ++i) records.push_back(test_of("a", 40 - 2 * i, i % 2 == 0 ? 0.72 : 0.73));
    records.push_back(test_of("a", 100, 0.55));
    const yield_chart c = chart_yields(records);
    REQUIRE(c.records.size() == 21);
    for (std::size_t i = 0; i < 21; ++i) CHECK(c.chart.values[i] == c.records[i].yield());
    CHECK(c.chart.outside == std::vector<std::size_t>{20});
    CHECK(c.records[20].date == invented_cuts::day(100));
}

TEST_CASE("records and rules that cannot be are refused") {
    CHECK_THROWS_WITH(summarise_records(std::vector<cutting_record>{}), StartsWith("records: got none"));
    CHECK_THROWS_WITH(chart_yields(std::vector<cutting_record>{}), StartsWith("records: got none"));
    CHECK_THROWS_WITH(summarise_records({test_of("a", 0, 1.1)}), StartsWith("records[0].parts: got 1100 g"));
    CHECK_THROWS_WITH(summarise_records({test_of("a", 0, 0.7)}, {.confidence = 1.0}), StartsWith("confidence"));
    CHECK_THROWS_WITH(summarise_records({test_of("a", 0, 0.7)}, {.scale_tolerance = -1_g}),
                      ContainsSubstring("scale_tolerance"));
    CHECK_NOTHROW(summarise_records({test_of("a", 0, 1.1)}, {.scale_tolerance = 100_g}));
}

} // namespace record_summary_test
