// What a record of cutting tests says of yield: by supplier, over time, between suppliers, and against the plans.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <chrono>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/records/cutting_record.hpp>
#include <tranche/statistics/individuals_chart.hpp>
#include <tranche/statistics/linear_regression.hpp>
#include <tranche/statistics/one_way_anova.hpp>
#include <tranche/statistics/sample_summary.hpp>

namespace tranche {

/// The yields of one supplier, or of all.
struct yield_summary {
    std::string supplier{}; ///< empty for all
    sample_summary yield{};
    /// Yield over days since `first`: `slope` is the change a day. None where all tests are of one day.
    std::optional<regression_line> trend{};
    std::chrono::year_month_day first{}, last{};
    /// Yield as cut - yield as planned, of the tests with a plan: the bias of the plans. None without any.
    std::optional<sample_summary> against_plan{};

    friend bool operator==(const yield_summary&, const yield_summary&) = default;
};

struct record_summary {
    yield_summary all{};
    std::vector<yield_summary> by_supplier{}; ///< by name
    /// Yields by supplier; none with one supplier, or one test from each.
    std::optional<anova_table> suppliers{};

    friend bool operator==(const record_summary&, const record_summary&) = default;
};

/// How a record is looked at.
struct record_rules {
    fraction confidence = 0.95;           ///< of every interval; more than 0 and less than 1
    weighing_tolerance scale_tolerance{}; ///< by how much parts may weigh more than the whole; zero or more

    friend bool operator==(const record_rules&, const record_rules&) = default;
};

namespace detail {

/// `records` in order of time, at least one.
[[nodiscard]] inline yield_summary yields_of(const std::string& supplier, const std::vector<cutting_record>& records,
                                             fraction confidence) {
    yield_summary result{.supplier = supplier, .first = records.front().date, .last = records.back().date};
    std::vector<double> days, yields, differences;
    const std::chrono::sys_days start = result.first;
    for (const cutting_record& r : records) {
        days.push_back(static_cast<double>((std::chrono::sys_days(r.date) - start).count()));
        yields.push_back(r.yield());
        if (r.predicted_yield) differences.push_back(r.yield() - *r.predicted_yield);
    }
    result.yield = summarise(yields, confidence);
    if (!differences.empty()) result.against_plan = summarise(differences, confidence);
    result.trend = linear_regression(days, yields, confidence);
    return result;
}

} // namespace detail

/// Summarises a record. The order of the list does not matter, and the unit of the weights only where it rounds. Throws
/// `invalid_input` for no records, a bad one (with its place in the list), and rules that cannot be. O(n log n). Yields
/// are shares, 0 to 1 and a little above within the tolerance; confidence is above 0 and below 1, the tolerance zero or
/// more.
[[nodiscard]] inline record_summary summarise_records(const std::vector<cutting_record>& records,
                                                      const record_rules& rules = {}) {
    if (records.empty()) throw invalid_input("records", "none", "at least one");
    const std::vector<cutting_record> sorted = detail::sorted_by_time(records, rules.scale_tolerance);
    record_summary result{.all = detail::yields_of("", sorted, rules.confidence)};
    std::map<std::string, std::vector<cutting_record>> suppliers;
    for (const cutting_record& r : sorted) suppliers[r.supplier].push_back(r);
    std::vector<std::vector<double>> groups;
    for (const auto& [name, theirs] : suppliers) {
        result.by_supplier.push_back(detail::yields_of(name, theirs, rules.confidence));
        groups.emplace_back();
        for (const cutting_record& r : theirs) groups.back().push_back(r.yield());
    }
    result.suppliers = one_way_anova(groups);
    return result;
}

/// The control chart of the yields in order of time, and the records that its values belong to.
struct yield_chart {
    std::vector<cutting_record> records;
    individuals_chart chart;

    friend bool operator==(const yield_chart&, const yield_chart&) = default;
};

/// Charts the yields of a record, by `in_order`; for one supplier, chart `of_supplier`. Throws as `summarise_records`.
/// O(n log n). Yields are shares, 0 to 1; the limits and their source are those of `chart_individuals`.
[[nodiscard]] inline yield_chart chart_yields(const std::vector<cutting_record>& records,
                                              const record_rules& rules = {}) {
    if (records.empty()) throw invalid_input("records", "none", "at least one");
    yield_chart result{detail::sorted_by_time(records, rules.scale_tolerance), {}};
    std::vector<double> yields;
    for (const cutting_record& r : result.records) yields.push_back(r.yield());
    result.chart = chart_individuals(yields);
    return result;
}

} // namespace tranche
