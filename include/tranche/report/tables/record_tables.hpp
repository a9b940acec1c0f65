// A record of cutting tests as tables, and as the CSV that it is read from.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/records/cutting_record.hpp>
#include <tranche/records/learned_losses.hpp>
#include <tranche/records/read_cutting_records.hpp>
#include <tranche/records/record_summary.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/detail/figure_lines.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/text/date.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/text/write_csv.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shortest_decimal.hpp>

namespace tranche {

namespace detail {

[[nodiscard]] TRANCHE_COLD inline std::string percent_or(const std::optional<double>& share, int digits = 1) {
    return share ? percent_text(*share, digits) : std::string("not known");
}
/// "-1.47 ± 1.27 %": with the distance to the ends of its interval, where there is one.
[[nodiscard]] TRANCHE_COLD inline std::string percent_within(double share,
                                                             const std::optional<confidence_interval>& interval,
                                                             int digits) {
    if (!interval) return percent_text(share, digits);
    return to_text(100.0 * share, digits) + " ± " + percent_text((interval->high - interval->low) / 2.0, digits);
}
/// "72.1 to 74.9 %"
[[nodiscard]] TRANCHE_COLD inline std::string percent_or(const std::optional<confidence_interval>& shares,
                                                         int digits = 1) {
    return shares ? to_text(100.0 * shares->low, digits) + " to " + percent_text(shares->high, digits)
                  : std::string("not known");
}

inline constexpr double days_of_trend = 30.0; ///< a change a day is too small to read

} // namespace detail

/// The records as `read_cutting_records` reads them, in the order given: read(write(records)) are the same records
/// wherever their weights are whole micrograms, and write(read(text)) is the same text where it was written here.
/// Throws `invalid_input` for a record that `validate` refuses, a year beyond four digits and a record that repeats
/// another, with its place in the list. O(length). Weights are grams.
[[nodiscard]] TRANCHE_COLD inline std::string cutting_records_csv(const std::vector<cutting_record>& records,
                                                                  mass scale_tolerance = mass{}) {
    std::string text = detail::csv_record({detail::record_columns.begin(), detail::record_columns.end()});
    std::map<std::string, std::size_t> lines;
    for (std::size_t i = 0; i < records.size(); ++i) {
        const cutting_record& r = records[i];
        const std::string place = "records[" + std::to_string(i) + "].";
        try {
            validate(r, scale_tolerance);
        } catch (const invalid_input& error) {
            throw within(place, error);
        }
        if (r.date.year() < std::chrono::year(0) || r.date.year() > std::chrono::year(9999))
            throw invalid_input(place + "date", date_text(r.date), "a year of four digits");
        std::vector<std::string> row{date_text(r.date), detail::csv_text(r.supplier), detail::csv_text(r.grade),
                                     detail::csv_text(r.note)};
        const auto weight = [&](mass m) { row.push_back(detail::csv_grams(to_micrograms(m))); };
        weight(r.bought);
        weight(r.usable);
        for (const destination d : all_destinations) weight(r.by_products[d]);
        weight(r.cutting_loss);
        weight(r.purge);
        row.push_back(r.predicted_yield ? detail::shortest_decimal(*r.predicted_yield + 0.0) : ""); // -0 is 0
        const auto [earlier, fresh] = lines.try_emplace(detail::csv_record(row), i);
        if (!fresh)
            throw invalid_input("records[" + std::to_string(i) + ']',
                                "the same as records[" + std::to_string(earlier->second) + ']',
                                "each test once; give two loins alike a note");
        text += earlier->first;
    }
    return text;
}

/// One row a supplier, and all of them: tests, mean yield, spread, the trend in points of per cent over 30 days, and the
/// bias of the plans (yield as cut - yield as planned). After ± stands how far the ends of an interval are off, where there
/// is one. What a record is too short for is "not known", and of a supplier without plans there is no bias.
/// O(suppliers). Shares in per cent. Takes what the library made at its word; throws as `to_text` for a number that is
/// not finite.
[[nodiscard]] TRANCHE_COLD inline report_table record_table(const record_summary& summary) {
    const auto right = report_table::align::right;
    report_table table;
    table.caption = "Yield as portions out of what was bought, ± to the ends of its interval; a trend and the bias of "
                    "the plans are in points of per cent";
    table.columns = {{"Supplier"},
                     {"Tests", right},
                     {"Mean yield", right},
                     {"Spread (sd)", right},
                     {"Trend in 30 days", right},
                     {"As cut less planned", right}};
    const auto add = [&](const yield_summary& s, const std::string& name, bool total) {
        std::optional<confidence_interval> slopes;
        if (s.trend && s.trend->slope_interval)
            slopes = confidence_interval{detail::days_of_trend * s.trend->slope_interval->low,
                                         detail::days_of_trend * s.trend->slope_interval->high};
        table.rows.push_back(
            {.cells = {name, std::to_string(s.yield.count), detail::percent_within(s.yield.mean, s.yield.interval, 1),
                       detail::percent_or(s.yield.standard_deviation),
                       s.trend ? detail::percent_within(detail::days_of_trend * s.trend->slope, slopes, 2)
                               : std::string("not known"),
                       s.against_plan ? detail::percent_within(s.against_plan->mean, s.against_plan->interval, 2)
                                      : std::string("no plans")},
             .total = total});
    };
    for (const yield_summary& s : summary.by_supplier) add(s, s.supplier, false);
    add(summary.all, "all", true);
    return table;
}

/// What lies behind the yields: the spread between suppliers and within them, and the bias of the plans. O(1). Shares
/// in per cent. Takes what the library made at its word; throws as `to_text` for a number that is not finite.
[[nodiscard]] TRANCHE_COLD inline report_table record_findings_table(const record_summary& summary) {
    detail::figure_lines add;
    if (const auto& a = summary.suppliers) {
        add("Spread between suppliers (sd)", percent_text(std::sqrt(a->between_variance), 2));
        add("Spread within a supplier (sd)", percent_text(std::sqrt(a->within_variance), 2));
        add("Chance of such differences among equal suppliers", detail::percent_or(a->p, 2));
    }
    if (const auto& bias = summary.all.against_plan) {
        add("Tests with a plan", std::to_string(bias->count));
        add("Yield as cut less yield as planned, on average", percent_text(bias->mean, 2));
        add("Its interval", detail::percent_or(bias->interval, 2));
        add("Spread of a single difference (sd)", detail::percent_or(bias->standard_deviation, 2));
    }
    return std::move(add).table();
}

/// What was learned for the next loin: each share with its standard error and interval. O(1). Shares in per cent. Takes
/// what the library made at its word; throws as `to_text` for a number that is not finite.
[[nodiscard]] TRANCHE_COLD inline report_table learned_table(const learned_losses& learned) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Share"}, {"Of"}, {"Estimate", right}, {"Standard error", right}, {"Interval", right}};
    const auto add = [&](const std::string& what, const char* of, const learned_share& s) {
        table.rows.push_back({.cells = {what, of, percent_text(s.value, 2), detail::percent_or(s.standard_error, 2),
                                        detail::percent_or(s.interval, 2)}});
    };
    add("purge", "bought", learned.purge);
    add("portions", "board", learned.usable);
    for (const destination d : all_destinations)
        if (learned.by_products[d].value > 0.0) add(std::string(name_of(d)), "board", learned.by_products[d]);
    add("cutting loss", "board", learned.cutting_loss);
    if (learned.unaccounted.value != 0.0) add("unaccounted for", "board", learned.unaccounted);
    if (learned.rest_over_planned) add("rest as cut", "rest as planned", *learned.rest_over_planned);
    return table;
}

} // namespace tranche
