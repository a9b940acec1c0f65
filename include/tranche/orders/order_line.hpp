// A line of an order: a product, how many are wanted, and what they are worth.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstdint>
#include <string>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A product and its demand. T portions of it are worth, beside `price.by_weight` of all of them,
///
///     price.each × min(T, at_most) − unfilled × max(0, at_least − T) + carry_over × min(max(0, T − at_most), carried) + surplus × the rest
///
/// where none pays better for coming later: price.each ≥ carry_over ≥ surplus; of an exact demand price.each + unfilled is as good.
template <currency C>
struct order_line {
    cut_spec cut{};
    std::int64_t at_least = 0;                 ///< portions wanted; zero or more
    std::int64_t at_most = demand::any_number; ///< portions that are taken at the price; at least `at_least`
    portion_price<C> price{};                  ///< of what is sold; by weight it is paid for what is left over as well
    money<C> unfilled{};                       ///< what each portion below `at_least` costs; zero or more
    money<C> carry_over{};                     ///< what a portion above `at_most` is worth tomorrow
    std::int64_t carried = 0;                  ///< how many of those can be sold tomorrow; zero or more
    money<C> surplus{};                        ///< what a further one is worth; negative if it costs
};

/// Throws `invalid_input` naming the line for what `validate` of the spec refuses, for demands that are negative, beyond 1e12 or the wrong
/// way round, for values that are not finite or come to 4e9 in all, or make a later portion worth more than an earlier one.
template <currency C>
void validate(const order_line<C>& line) {
    validate(line.cut);
    const std::string where = line.cut.name + ": ";
    const auto whole = [&](std::int64_t n, const char* field, std::int64_t least, const char* expected) {
        if (n < least) throw invalid_input(where + field, std::to_string(n), expected);
    };
    whole(line.at_least, "at_least", 0, "zero or more portions");
    if (line.at_least > 1'000'000'000'000)
        throw invalid_input(where + "at_least", std::to_string(line.at_least), "no more than 1e12 portions");
    whole(line.at_most, "at_most", line.at_least, "no fewer than at_least");
    whole(line.carried, "carried", 0, "zero or more portions");
    const auto finite = [&](double value, const char* field) {
        if (!(std::abs(value) < 4e9))
            throw invalid_input(where + field, detail::shown(value), "a finite value below 4e9");
    };
    finite(line.price.each.value(), "price by the piece");
    finite(line.price.by_weight.value(), "price by weight");
    finite(line.unfilled.value(), "unfilled");
    finite(line.carry_over.value(), "carry_over");
    finite(line.surplus.value(), "surplus");
    if (line.unfilled < money<C>{})
        throw invalid_input(where + "unfilled", detail::shown(line.unfilled.value()), "zero or more");
    const auto all = [&](std::int64_t portions, money<C> each, const char* field) {
        if (!(static_cast<double>(portions) * std::abs(each.value()) < 4e9))
            throw invalid_input(where + field, std::to_string(portions), "portions that come to less than 4e9 in all");
    };
    all(line.at_least, line.unfilled, "at_least");
    if (line.at_most == demand::any_number) return;
    all(line.at_most, line.price.each, "at_most");
    all(line.carried, line.carry_over, "carried");
    // Of an exact demand the last portion of today is one that would be missing.
    const money<C> today = line.at_most > line.at_least ? line.price.each : line.price.each + line.unfilled;
    const char* const less = "no more than what a portion of today is worth, or none would be sold today";
    if (line.carried > 0 && line.carry_over > today)
        throw invalid_input(where + "carry_over", detail::shown(line.carry_over.value()), less);
    if (line.surplus > (line.carried > 0 ? line.carry_over : today))
        throw invalid_input(where + "surplus", detail::shown(line.surplus.value()),
                            line.carried > 0 ? "no more than carry_over" : less);
}

} // namespace tranche
