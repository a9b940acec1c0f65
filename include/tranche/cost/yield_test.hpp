// The cutting-yield test as the textbooks have it: what the usable meat cost once the rest is credited.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cost/purchase.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What a part of the whole is to the bill: the usable product, a by-product with a value of its own, or a loss.
enum class part_role { usable, by_product, loss };

/// One part of the whole, as weighed. `value` counts for by-products only.
template <currency C>
struct weighed_part {
    std::string name{};
    mass weight{}; ///< zero or more
    part_role role = part_role::loss;
    unit_price<C> value{};
};

/// One line of the test.
template <currency C>
struct yield_line {
    weighed_part<C> part{};
    micrograms weight{};
    fraction ratio = 0.0; ///< weight / weight of the whole
    amount<C> credit{};   ///< weight × value, rounded; zero unless a by-product
};

/// The result of a cutting-yield test. Amounts are what a bill says and add up exactly; rates come from unrounded values.
template <currency C>
struct yield_test {
    tranche::purchase<C> purchase{};
    micrograms whole{};
    std::vector<yield_line<C>> lines;
    amount<C> paid{};          ///< whole × price
    amount<C> credit{};        ///< Σ of the by-products' credits
    amount<C> primary_value{}; ///< paid - credit: what the usable part cost
    micrograms usable{};
    money<C> unrounded_primary_value{};

    /// usable / whole.
    [[nodiscard]] fraction yield() const { return to_mass(usable) / to_mass(whole); }
    /// Primary value / usable weight; none when nothing is usable.
    [[nodiscard]] std::optional<unit_price<C>> cost_per_usable() const {
        if (usable.count == 0) return std::nullopt;
        return unrounded_primary_value / to_mass(usable);
    }
    /// Cost per usable weight / price paid per weight; none when nothing is usable or nothing was paid.
    [[nodiscard]] std::optional<double> cost_factor() const {
        if (usable.count == 0 || !(purchase.price > unit_price<C>{})) return std::nullopt;
        return *cost_per_usable() / purchase.price;
    }
};

/// ratio = part / whole; primary value = total cost - Σ by-product values; cost per usable weight = primary value / usable
/// weight; cost factor = cost per usable weight / price paid (Dittmer and Keefe, Principles of Food, Beverage, and Labor
/// Cost Controls, 9th edition, chapter 6).
///
/// The parts must add up to the purchase within `scale_tolerance`; what they miss then becomes a loss line of its own
/// ("unaccounted for", negative when they weigh more). A miss of no more than a microgram a part comes from rounding and
/// goes to the heaviest part instead. Throws `invalid_input` for a bad purchase, no parts, a bad weight or value, or a sum
/// beyond the tolerance, and says by how much. O(parts).
template <currency C>
[[nodiscard]] yield_test<C> cutting_yield_test(const purchase<C>& bought, const std::vector<weighed_part<C>>& parts,
                                               mass scale_tolerance = mass{}, rounding how = rounding::half_even) {
    validate(bought);
    require_not_negative(scale_tolerance, "scale_tolerance");
    if (parts.empty()) throw invalid_input("parts", "none", "at least one");
    yield_test<C> test;
    test.purchase = bought;
    test.whole = to_micrograms(bought.weight, "purchase.weight");
    test.paid = rounded<C>(bought.cost(), how, "cost of the purchase");

    micrograms sum;
    for (const weighed_part<C>& part : parts) {
        require_not_negative(part.weight, part.name + ": weight");
        if (!std::isfinite(part.value.value()))
            throw invalid_input(part.name + ": value", shown(part.value.value()), "a finite value");
        test.lines.push_back({part, to_micrograms(part.weight), 0.0, {}});
        sum += test.lines.back().weight;
    }
    const micrograms missing = test.whole - sum;
    if (std::abs(missing.count) <= static_cast<std::int64_t>(parts.size()))
        std::max_element(test.lines.begin(), test.lines.end(), [](const auto& a, const auto& b) {
            return a.weight < b.weight;
        })->weight += missing;
    else if (std::abs(missing.count) <= to_micrograms(scale_tolerance).count)
        test.lines.push_back({{"unaccounted for", to_mass(missing), part_role::loss, {}}, missing, 0.0, {}});
    else
        throw invalid_input("parts", shown(to_mass(sum)) + " in all",
                            "the weight of the purchase, " + shown(to_mass(test.whole)) + "; they miss it by " +
                                shown(to_mass(missing)) + ", more than the " + shown(scale_tolerance) +
                                " of the scale");

    test.unrounded_primary_value = bought.cost();
    for (yield_line<C>& line : test.lines) {
        line.ratio = to_mass(line.weight) / to_mass(test.whole);
        if (line.part.role == part_role::usable) test.usable += line.weight;
        if (line.part.role != part_role::by_product) continue;
        const money<C> worth = to_mass(line.weight) * line.part.value;
        line.credit = rounded<C>(worth, how, "value of a part");
        test.credit += line.credit;
        test.unrounded_primary_value -= worth;
    }
    test.primary_value = test.paid - test.credit;
    return test;
}

} // namespace tranche
