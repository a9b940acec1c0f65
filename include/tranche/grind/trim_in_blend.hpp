// Own trim in a blend: what to buy for it, and what it is worth there.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <tranche/grind/least_cost_blend.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// The least-cost purchase that brings everything of `own` into the range of fat: all of the own trim goes in, and of the
/// offers what their supplies say and what is cheapest for the fat it takes away, price / (upper end - fat) (or adds, if
/// the trim is too lean). Own trim comes first in the blend's sources, then the offers. If the trim is right as it is,
/// nothing is bought beyond the least masses of the offers. The last microgram bought is rounded up, so that the fat is
/// never over the upper end.
///
/// `shadow_price_of_fat` is what taking out one more kilogram of fat costs in the offer bought last, and `worth_of` what one
/// kilogram more of meat so fat saves in purchases; of fat trim that is below zero: what taking it in costs.
///
/// Throws as `least_cost_blend`, and for an offer with a price below zero: then there would be no least purchase.
/// O(sources log sources). Money by mass; masses are whole micrograms, `fat` lipid by mass, 0 to 1.
template <currency C>
[[nodiscard]] blend<C> cheapest_addition(const grind_source<C>& own, const std::vector<grind_source<C>>& offers,
                                         const fat_range& fat, const legal_fat_limit& limit,
                                         rounding how = rounding::half_even) {
    std::vector<grind_source<C>> sources{own};
    validate(own);
    if (std::isinf(own.supply.max.value()))
        throw invalid_input(own.name + ": supply.max", "no upper end", "the mass of the own trim");
    sources[0].supply.min = own.supply.max;
    sources.insert(sources.end(), offers.begin(), offers.end());
    blend<C> b = detail::asked_for(sources, fat, limit);
    b.least_purchase = true;
    for (const grind_source<C>& offer : offers)
        if (offer.price < unit_price<C>{})
            throw invalid_input(offer.name + ": price", detail::shown(offer.price.value()),
                                "zero or more, where it is bought");
    if (!b.made()) return b;

    const std::int64_t unlimited = std::numeric_limits<std::int64_t>::max() / 2;
    const detail::blend_problem p = detail::problem_of(sources, b, unlimited);
    (void)detail::counted_mass(p.least_sum(), "supply.min of all sources");
    const detail::sized_blend s = detail::free_batch(p, true);
    if (s.batch() == 0) {
        b.outcome = blend_outcome::too_little;
        return b;
    }
    if (s.off > 0 || s.off < -detail::pure_fat) {
        detail::explain_open(b, p, s);
        return b;
    }
    b.batch.count = detail::counted_mass(s.batch(), "batch");
    detail::fill_in(b, p, s.masses, how);
    if (s.last) {
        const bool down = p.sources[*s.last].fat < p.fattest;
        const double level = static_cast<double>(down ? p.fattest : p.leanest) / double{detail::pure_fat};
        b.shadow_price_of_fat = sources[*s.last].price / (level - detail::fat_share(p.sources[*s.last].fat, 1));
        b.price_without_fat = level * b.shadow_price_of_fat;
    }
    return b;
}

/// What the trim of a blend brings by weight if the blend sells (or replaces ground meat that would be bought) at
/// `price_of_grind`: (price × batch - cost of everything else) / weight of the trim. None if the blend is not made or
/// the source is not in it. Throws `invalid_input` for a price that is not finite and a source that is not in the
/// blend. Money by mass, below zero where the rest costs more than it sells for.
template <currency C>
[[nodiscard]] std::optional<unit_price<C>> worth_when_sold(const blend<C>& b, std::size_t source,
                                                           unit_price<C> price_of_grind) {
    if (source >= b.sources.size())
        throw invalid_input("source", std::to_string(source), "below " + std::to_string(b.sources.size()));
    if (!std::isfinite(price_of_grind.value()))
        throw invalid_input("price_of_grind", detail::shown(price_of_grind.value()), "a finite price");
    if (!b.made() || b.lines[source].weight.count == 0) return std::nullopt;
    const mass own = to_mass(b.lines[source].weight);
    const money<C> rest = b.unrounded_cost - detail::unfused(own * b.sources[source].price);
    return (detail::unfused(to_mass(b.batch) * price_of_grind) - rest) / own;
}

/// What own trim saves in a batch that is made in any case.
template <currency C>
struct trim_worth {
    blend<C> with;    ///< own trim first, at no price
    blend<C> without; ///< the offers alone
    /// (Cost without - cost with) / weight of the trim that goes in: up to this value elsewhere it is better in the grind.
    /// None if either blend is not made or no trim goes in.
    std::optional<unit_price<C>> average{};
    /// The same for one kilogram more of it; none if the blend with it is not made.
    std::optional<unit_price<C>> marginal{};

    friend bool operator==(const trim_worth&, const trim_worth&) = default;
};

/// Compares the cheapest batch from the offers alone with the cheapest one that may take own trim for nothing, within its
/// supply. The price of `own` does not count. Throws as `least_cost_blend`, and for a request without a batch. Money,
/// and money per mass on average and at the margin; `request` and `offers` are as `least_cost_blend` wants them.
template <currency C>
[[nodiscard]] trim_worth<C> worth_in_batch(grind_source<C> own, const std::vector<grind_source<C>>& offers,
                                           const blend_request& request, const legal_fat_limit& limit,
                                           rounding how = rounding::half_even) {
    validate(own);
    if (!request.batch) throw invalid_input("batch", "none", "the mass of the batch that is made in any case");
    own.price = unit_price<C>{};
    std::vector<grind_source<C>> sources{own};
    sources.insert(sources.end(), offers.begin(), offers.end());
    trim_worth<C> worth{least_cost_blend(sources, request, limit, how), least_cost_blend(offers, request, limit, how)};
    if (!worth.with.made()) return worth;
    worth.marginal = worth.with.worth_of(own.fat);
    const micrograms in = worth.with.lines[0].weight;
    if (worth.without.made() && in.count > 0)
        worth.average = (worth.without.unrounded_cost - worth.with.unrounded_cost) / to_mass(in);
    return worth;
}

} // namespace tranche
