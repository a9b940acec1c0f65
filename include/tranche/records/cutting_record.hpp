// One cutting test as it was written down: when, from whom, what was bought and what became of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/cut/trim.hpp>
#include <tranche/text/utf8.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A loin that was cut and weighed. Weights are counted in whole micrograms wherever they are added or written.
struct cutting_record {
    std::chrono::year_month_day date{}; ///< of the calendar; tests of one day stand side by side
    std::string supplier{};             ///< not empty
    std::string grade{}, note{};
    mass bought{};                             ///< invoiced; above zero
    mass usable{};                             ///< the portions, as the cutting-yield test has them
    by_destination<mass> by_products{};        ///< loose meat and trim, by where they went
    mass cutting_loss{};                       ///< lost to the knife
    mass purge{};                              ///< drip in the bag: bought but not on the board
    std::optional<fraction> predicted_yield{}; ///< usable / bought of the plan, if there was one

    /// usable / bought. By mass, 0 to 1 and above by the tolerance of the scales. Throws nothing: `validate` checks
    /// that something was bought. The yield per cent of the trade: common practice, no source.
    [[nodiscard]] fraction yield() const { return usable / bought; }
    /// What came on the board: bought - purge. In kilograms, above zero in a record that `validate` passes. Throws
    /// `invalid_input` only where 64 bits do not hold a weight.
    [[nodiscard]] mass on_board() const { return to_mass(to_micrograms(bought) - to_micrograms(purge)); }
    /// bought - all parts, each rounded to whole micrograms; below zero where the scale found more. Throws
    /// `invalid_input` only where 64 bits do not hold a weight.
    [[nodiscard]] micrograms unaccounted() const {
        micrograms rest = to_micrograms(bought, "bought");
        for (const mass& part : {usable, cutting_loss, purge}) rest -= to_micrograms(part);
        for (const mass& part : by_products.values) rest -= to_micrograms(part);
        return rest;
    }
};

namespace detail {

/// Every weight is below it: nine digits of grams in a table, and sums that 64 bits hold with ease.
inline constexpr mass most_weight_of_record = 1e6 * kilogram;

} // namespace detail

/// Throws `invalid_input` naming the field for a date that is not in the calendar, a supplier without a name, texts
/// with control characters or with spaces at their ends, weights that are not finite, below zero or not below
/// `most_weight_of_record`, nothing bought, nothing that came on the board, a prediction that is no share, and parts
/// that weigh more than what was bought by more than `scale_tolerance`. Parts that weigh less are fine: the rest is
/// `unaccounted`. Weights are in kilograms, the prediction is 0 to 1.
inline void validate(const cutting_record& record, const weighing_tolerance& scale_tolerance = {}) {
    validate(scale_tolerance);
    if (!record.date.ok()) throw invalid_input("date", "no day of the calendar", "a date such as 2026-03-14");
    const auto check_text = [](const std::string& text, const char* field) {
        const bool spaced = !text.empty() && (text.front() == ' ' || text.back() == ' ');
        if (spaced || !detail::is_plain_line(text))
            throw invalid_input(field, '"' + text + '"', "one line of UTF-8 text without spaces at its ends");
    };
    check_text(record.supplier, "supplier");
    check_text(record.grade, "grade");
    check_text(record.note, "note");
    if (record.supplier.empty()) throw invalid_input("supplier", "nothing", "a name");
    detail::require_positive(record.bought, "bought");
    const auto check_weight = [](mass m, std::string_view field) {
        detail::require_not_negative(m, field);
        if (!(m < detail::most_weight_of_record))
            throw invalid_input(std::string(field), detail::shown(m), "less than 1000 tonnes");
    };
    check_weight(record.bought, "bought");
    check_weight(record.usable, "usable");
    for (const destination d : all_destinations) check_weight(record.by_products[d], name_of(d));
    check_weight(record.cutting_loss, "cutting_loss");
    check_weight(record.purge, "purge");
    if (!(record.on_board() > mass{}))
        throw invalid_input("purge", detail::shown(record.purge),
                            "less than what was bought, " + detail::shown(record.bought));
    if (record.predicted_yield) detail::require_share(*record.predicted_yield, "predicted_yield");
    // A table holds whole micrograms, to which each of nine weights rounds by itself, from ounces for example.
    constexpr micrograms by_rounding{5};
    const micrograms over = micrograms{} - record.unaccounted();
    if (over > scale_tolerance.at(record.bought) + by_rounding)
        throw invalid_input("parts", detail::shown(record.bought + to_mass(over)) + " in all",
                            "at most what was bought, " + detail::shown(record.bought) + "; they are too heavy by " +
                                detail::shown(to_mass(over)));
}

namespace detail {

[[nodiscard]] inline auto key_of(const cutting_record& r) {
    return std::tie(r.date, r.supplier, r.grade, r.note, r.bought, r.usable, r.by_products.values, r.cutting_loss,
                    r.purge, r.predicted_yield);
}

/// A total order, by date first.
struct record_before {
    [[nodiscard]] bool operator()(const cutting_record& a, const cutting_record& b) const {
        return key_of(a) < key_of(b);
    }
};

} // namespace detail

[[nodiscard]] inline bool operator==(const cutting_record& a, const cutting_record& b) {
    return detail::key_of(a) == detail::key_of(b);
}

namespace detail {

/// The records by date; those of one day by supplier, grade, note and weights, so that their order in the list does not
/// matter. Throws what `validate` throws, with the place in the list before the field. O(n log n).
[[nodiscard]] inline std::vector<cutting_record> sorted_by_time(std::vector<cutting_record> records,
                                                                const weighing_tolerance& scale_tolerance = {}) {
    for (std::size_t i = 0; i < records.size(); ++i) {
        try {
            validate(records[i], scale_tolerance);
        } catch (const invalid_input& error) {
            throw within("records[" + std::to_string(i) + "].", error);
        }
    }
    std::sort(records.begin(), records.end(), detail::record_before{});
    return records;
}

} // namespace detail

/// The records of one supplier, in the order given. Names are compared letter by letter; none where nobody has that
/// name. Throws nothing but for lack of memory. O(records).
[[nodiscard]] inline std::vector<cutting_record> of_supplier(const std::vector<cutting_record>& records,
                                                             std::string_view supplier) {
    std::vector<cutting_record> result;
    std::copy_if(records.begin(), records.end(), std::back_inserter(result),
                 [&](const cutting_record& r) { return r.supplier == supplier; });
    return result;
}

} // namespace tranche
