// Joint products from a plan or a yield test, and a bill whose portions cost what their kind sells for.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/joint/joint_cost.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// Prices and costs of a plan's portions, by the name of their spec, each by weight, by the piece, or both.
template <currency C>
struct joint_prices {
    std::map<std::string, portion_price<C>> at_split_off{}; ///< as they leave the board
    std::map<std::string, portion_price<C>> finished{};     ///< once finished; a spec not named is sold as it is
    std::map<std::string, portion_price<C>> finishing{};    ///< what finishing costs; a spec not named: nothing

    friend bool operator==(const joint_prices&, const joint_prices&) = default;
};

/// The usable parts of a yield test as joint products, each worth weight × value at split-off. A part without a value
/// has none. O(lines). Masses in whole micrograms, values as sums of money that are not rounded. Throws nothing:
/// `allocate_joint_cost` checks.
template <currency C>
[[nodiscard]] std::vector<joint_product<C>> joint_products_of(const yield_test<C>& test) {
    std::vector<joint_product<C>> products;
    for (const yield_line<C>& line : test.lines) {
        if (line.part.role != part_role::usable) continue;
        products.push_back({.name = line.part.name, .weight = to_mass(line.weight)});
        if (line.part.value != unit_price<C>{})
            products.back().split_off_value = detail::unfused(to_mass(line.weight) * line.part.value);
    }
    return products;
}

/// The specs of a plan as joint products, one each; those without a portion have no weight and are worth nothing.
/// O(slabs + specs log prices). Prices by weight and by the piece are zero or more; a spec that a list does not name
/// has no value there, and costs nothing to finish. Throws nothing: `allocate_joint_cost` checks.
template <currency C>
[[nodiscard]] std::vector<joint_product<C>> joint_products_of(const cutting_plan& cuts, const joint_prices<C>& prices) {
    const mass_balance balance = balance_of(cuts);
    std::vector<std::size_t> pieces(cuts.specs.size());
    for (const slab& s : cuts.slabs)
        if (s.kind == slab_kind::portions) pieces[s.option] += static_cast<std::size_t>(cuts.spec_of(s).pieces);

    std::vector<joint_product<C>> products;
    for (std::size_t s = 0; s < cuts.specs.size(); ++s) {
        const std::string& name = cuts.specs[s].name;
        const mass weight = to_mass(balance.portions[s]);
        const auto worth = [&](const std::map<std::string, portion_price<C>>& list) -> std::optional<money<C>> {
            if (pieces[s] == 0) return money<C>{};
            const auto price = list.find(name);
            if (price == list.end()) return std::nullopt;
            return detail::unfused(weight * price->second.by_weight) +
                   detail::unfused(static_cast<double>(pieces[s]) * price->second.each);
        };
        joint_product<C> product{.name = name, .weight = weight, .split_off_value = worth(prices.at_split_off)};
        if (prices.finished.contains(name)) product.final_value = worth(prices.finished);
        product.separable_cost = worth(prices.finishing).value_or(money<C>{});
        products.push_back(product);
    }
    return products;
}

/// A bill whose portions carry joint cost by another rule than their weight, and how each spec came to its share.
template <currency C>
struct jointly_settled {
    bill<C> settled{};                ///< its portions' costs add up to the primary value, as before
    joint_allocation<C> allocation{}; ///< one line a spec of the plan

    friend bool operator==(const jointly_settled&, const jointly_settled&) = default;
};

/// Shares the primary value of a settled plan (by-products are credited in it) among its specs by `method`, and what a
/// spec carries among its portions by weight, both by largest remainder: so steak and fillet cost in proportion to what
/// they sell for. `settled` is the bill of `cuts`. A bill without portions comes back as it is, with no lines. Throws
/// what `allocate_joint_cost` throws. O(slabs + specs × portions + portions log portions). Source: as there. Weights
/// are whole micrograms, money minor units rounded as `how` says.
template <currency C>
[[nodiscard]] jointly_settled<C> share_joint_cost(const cutting_plan& cuts, bill<C> settled,
                                                  const joint_prices<C>& prices, joint_method method,
                                                  rounding how = rounding::half_even) {
    jointly_settled<C> result{std::move(settled), {.method = method}};
    bill<C>& carrying = result.settled;
    if (carrying.test.usable.count == 0) return result;
    result.allocation =
        allocate_joint_cost(carrying.test.primary_value, joint_products_of(cuts, prices), method, {}, how);
    for (std::size_t s = 0; s < cuts.specs.size(); ++s) {
        std::vector<std::size_t> of_spec;
        std::vector<std::int64_t> weights;
        for (std::size_t i = 0; i < carrying.portions.size(); ++i) {
            if (carrying.portions[i].spec != s) continue;
            of_spec.push_back(i);
            weights.push_back(carrying.portions[i].weight.count);
        }
        if (of_spec.empty()) continue;
        const auto costs = split(result.allocation.lines[s].joint_cost, std::span<const std::int64_t>(weights));
        for (std::size_t k = 0; k < costs.size(); ++k) carrying.portions[of_spec[k]].cost = costs[k];
    }
    return result;
}

} // namespace tranche
