// The weighed parts of a whole: what each is to the bill, where it goes, and that they add up.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

/// What a part of the whole is to the bill: the usable product, a by-product with a value of its own, or a loss.
enum class part_role { usable, by_product, loss };

/// One part of the whole, as weighed. `value` is what a by-product is credited at (negative: what its disposal costs),
/// or what a usable part would sell for, which a yield test does not use and joint cost does; a loss has none.
/// `goes_to` says in the user's words where the part ends up ("stock", "mince"); left empty, `destination_text` says it
/// by the role. A loss goes nowhere.
template <currency C>
struct weighed_part {
    std::string name{};
    mass weight{}; ///< zero or more
    part_role role = part_role::loss;
    unit_price<C> value{};
    std::string goes_to{};

    friend bool operator==(const weighed_part&, const weighed_part&) = default;
};

namespace detail {

/// Where a part ends up: its own words, or "portions", "by-products", "lost".
template <currency C>
[[nodiscard]] std::string destination_text(const weighed_part<C>& part) {
    if (!part.goes_to.empty()) return part.goes_to;
    switch (part.role) {
    case part_role::usable: return "portions";
    case part_role::by_product: return "by-products";
    case part_role::loss: break;
    }
    return "lost";
}

} // namespace detail

/// Throws `invalid_input`, with the part's name in the field, for a weight that is negative or not finite, a value that
/// is not finite, and a loss with a value or a destination. Weights are zero or more, values money by mass, of any
/// sign.
template <currency C>
void validate(const weighed_part<C>& part) {
    detail::require_not_negative(part.weight, part.name + ": weight");
    if (!std::isfinite(part.value.value()))
        throw invalid_input(part.name + ": value", detail::shown(part.value.value()), "a finite value");
    if (part.role != part_role::loss) return;
    if (part.value != unit_price<C>{})
        throw invalid_input(part.name + ": value",
                            detail::shown(part.value.value()) + ' ' + std::string(C::code) + "/kg",
                            "none, because the part is a loss; what has a value is a by-product");
    if (!part.goes_to.empty())
        throw invalid_input(part.name + ": goes_to", '"' + part.goes_to + '"',
                            "nothing, because the part is a loss; what goes somewhere is a by-product");
}

/// One line of a test.
template <currency C>
struct yield_line {
    weighed_part<C> part{};
    micrograms weight{};
    fraction ratio = 0.0; ///< weight / weight of the purchase
    amount<C> credit{};   ///< weight × value, rounded; zero unless a by-product

    friend bool operator==(const yield_line&, const yield_line&) = default;
};

namespace detail {

/// What a set of parts comes to.
template <currency C>
struct weighed_parts {
    std::vector<yield_line<C>> lines;
    micrograms usable{};
    amount<C> credit{};          ///< Σ of the lines'
    money<C> unrounded_credit{}; ///< Σ weight × value of the by-products
};

/// The parts of `whole`, which `whole_name` names in messages, as lines whose weights add up to it: see
/// `cutting_yield_test` for the tolerance. What is missing up to `rounding_slack` micrograms goes to the heaviest. Ratios are
/// to `purchase`. O(parts).
template <currency C>
[[nodiscard]] weighed_parts<C> weigh(const std::vector<weighed_part<C>>& parts, micrograms whole,
                                     const char* whole_name, micrograms purchase,
                                     const weighing_tolerance& scale_tolerance, std::int64_t rounding_slack,
                                     rounding how) {
    using wide = wide_integer;
    const std::int64_t tolerance = scale_tolerance.at(to_mass(whole)).count;
    if (parts.empty()) throw invalid_input("parts", "none", "at least one");
    const sentence weight_of_whole = sentence("the weight of ") + whole_name + ", " + to_mass(whole);

    weighed_parts<C> result;
    wide sum = 0;
    for (const weighed_part<C>& part : parts) {
        validate(part);
        const micrograms weight = to_micrograms(part.weight, "weight of a part");
        if (wide{weight.count} - whole.count > std::max(tolerance, rounding_slack))
            throw invalid_input(part.name + ": weight", part.weight, "no more than " + weight_of_whole);
        result.lines.push_back({part, weight, 0.0, {}});
        sum += weight.count;
    }
    const wide missing = whole.count - sum, missed_by = missing < 0 ? -missing : missing;
    const bool fits = missed_by <= std::numeric_limits<std::int64_t>::max();
    const micrograms rest{fits ? static_cast<std::int64_t>(missing) : 0};
    if (missed_by <= rounding_slack)
        std::max_element(result.lines.begin(), result.lines.end(), [](const auto& a, const auto& b) {
            return a.weight < b.weight;
        })->weight += rest;
    else if (missed_by <= tolerance)
        result.lines.push_back({{"unaccounted for", to_mass(rest), part_role::loss, {}, {}}, rest, 0.0, {}});
    else {
        const auto weight = [](wide count) -> mass { return static_cast<double>(count) * 1e-9 * kilogram; };
        throw invalid_input("parts", sentence(weight(sum)) + " in all",
                            weight_of_whole + "; they miss it by " + weight(missing) + ", more than the " +
                                to_mass({tolerance}) + " of the scale");
    }

    for (yield_line<C>& line : result.lines) {
        line.ratio = to_mass(line.weight) / to_mass(purchase);
        if (line.part.role == part_role::usable) result.usable += line.weight;
        if (line.part.role != part_role::by_product) continue;
        const money<C> worth = detail::unfused(to_mass(line.weight) * line.part.value);
        line.credit = rounded<C>(worth, how, "value of a part");
        result.credit += line.credit;
        result.unrounded_credit += worth;
    }
    return result;
}

} // namespace detail

} // namespace tranche
