// A blend of grind: what goes in, what it costs and how fat it is; or why it cannot be made, and what would help.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/grind/detail/fat_parts.hpp>
#include <tranche/grind/fat_range.hpp>
#include <tranche/grind/grind_source.hpp>
#include <tranche/text/scale_division.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Why there is no blend, or that there is one.
enum class blend_outcome {
    made,           ///< the least-cost blend
    over_the_limit, ///< all of the range that was asked for lies over the legal limit
    too_fat,        ///< the leanest blend within the supplies is fatter than allowed
    too_lean,       ///< the fattest blend within the supplies is leaner than asked for
    too_little,     ///< the supplies do not fill the batch
    too_much        ///< what has to go in is more than the batch
};

/// What one source contributes.
template <currency C>
struct blend_line {
    micrograms weight{};
    amount<C> cost{}; ///< weight × price, rounded by itself as on an invoice

    friend bool operator==(const blend_line&, const blend_line&) = default;
};

/// So much more of one source, and a blend could be made.
template <currency C>
struct blend_remedy {
    std::size_t source = 0; ///< index into the blend's sources
    micrograms more{};      ///< beyond its supply
    money<C> cost{};        ///< more × price

    friend bool operator==(const blend_remedy&, const blend_remedy&) = default;
};

/// The answer to a request for a blend. Self-contained: it holds the sources, the range and the limit it was made for.
template <currency C>
struct blend {
    blend_outcome outcome = blend_outcome::made;
    bool least_purchase = false; ///< its mass is what had to be bought for what goes in, see `cheapest_addition`
    std::vector<grind_source<C>> sources;
    fat_range wanted{};      ///< as asked for
    legal_fat_limit limit{}; ///< as named by the caller

    // If it is made:
    std::vector<blend_line<C>> lines; ///< one a source, in their order; weights add up to the batch exactly
    micrograms batch{};               ///< if it is not: what was asked for, or nothing
    fraction fat = 0.0;               ///< Σ weight × fat / batch
    amount<C> cost{};                 ///< Σ of the lines
    money<C> unrounded_cost{};        ///< Σ weight × price
    /// What one kilogram of fat less costs in the last exchange: 0 where the fat is not what binds, below 0 where the
    /// blend had to be made fatter.
    unit_price<C> shadow_price_of_fat{};
    /// What one kilogram more of the blend, without its fat, costs; see `worth_of`.
    unit_price<C> price_without_fat{};

    // Within the supplies, for this batch; of a blend of open mass only the end that cannot be passed, if it is not made.
    std::optional<fraction> leanest{}, fattest{};

    // If it is not made:
    micrograms missing{};                  ///< too little or too much: by how much
    std::vector<blend_remedy<C>> remedies; ///< any one of them would do; the cheapest first

    /// Whether there is such a blend; if not, `outcome` says why. Throws nothing.
    [[nodiscard]] bool made() const { return outcome == blend_outcome::made; }
    /// The most fat allowed: by whoever asked, or by the law if that is stricter. Lipid by mass, 0 to 1. Throws
    /// nothing.
    [[nodiscard]] fraction most_fat() const { return std::min(wanted.max, limit.most); }
    /// Cost of the blend by weight, not rounded. Throws `invalid_input` for a blend that is not made or weighs nothing.
    /// Money by mass, of any sign.
    [[nodiscard]] unit_price<C> cost_by_weight() const {
        require_made();
        if (!(batch > micrograms{})) throw invalid_input("batch", detail::shown(to_mass(batch)), "a mass above zero");
        return unrounded_cost / to_mass(batch);
    }

    /// What one kilogram more of meat so fat is worth in this blend, at the margin: price_without_fat - fat × shadow_price_of_fat
    /// (the dual prices of the two rows of the linear program). A source that costs less than that is used up; one that
    /// costs more is left out beyond its least mass. In a blend of least purchase nothing counts for the larger batch: it is
    /// what one more kilogram saves in purchases, below zero for fat trim. Where no source lies strictly between its bounds
    /// other dual prices would do as well; these are those of the dearest meat that is in. Throws `invalid_input` for a fat
    /// content that is no share and for a blend that is not made.
    [[nodiscard]] unit_price<C> worth_of(fraction meat_fat) const {
        require_made();
        detail::require_share(meat_fat, "meat_fat");
        return price_without_fat - detail::unfused(meat_fat * shadow_price_of_fat);
    }

    /// One sentence on what is in the way, and one on each remedy; empty if the blend is made. Masses that would do are
    /// rounded up to what `how` writes. Throws as `to_text` of a mass.
    [[nodiscard]] std::vector<std::string> why_not(mass_division how = whole_grams) const;

    friend bool operator==(const blend&, const blend&) = default;

private:
    void require_made() const {
        if (!made()) throw invalid_input("blend", "one that is not made", "a blend that is made");
    }
};

namespace detail {

template <currency C>
[[nodiscard]] std::string what_is_in_the_way(const blend<C>& b, mass_division how) {
    // The fat that is in the way, and the one that it is over or under.
    const auto both = [](fraction found, fraction allowed) {
        const int digits = digits_apart(found, allowed, 2);
        return std::pair(percent_text(found, digits), percent_text(allowed, digits));
    };
    const std::string of_batch = b.batch.count > 0 ? " of " + to_text(to_mass(b.batch), how) : "";
    switch (b.outcome) {
    case blend_outcome::made: break;
    case blend_outcome::over_the_limit: {
        const auto [asked, most] = both(b.wanted.min, b.limit.most);
        return "At least " + asked + " fat is asked for, over the limit of " + most + " (" + b.limit.law + ").";
    }
    case blend_outcome::too_fat: {
        const auto [leanest, most] = both(*b.leanest, b.most_fat());
        return "The leanest blend" + of_batch + " within the supplies is " + leanest + " fat, over the " + most +
               (b.limit.most < b.wanted.max ? " that the law allows (" + b.limit.law + ")." : " asked for.");
    }
    case blend_outcome::too_lean: {
        const auto [fattest, least] = both(*b.fattest, b.wanted.min);
        return "The fattest blend" + of_batch + " within the supplies is " + fattest + " fat, under the " + least +
               " asked for.";
    }
    case blend_outcome::too_little:
        if (b.batch.count == 0) return "There is nothing to blend.";
        return "The supplies are " + text_from_above(b.missing, how) + " short of the batch" + of_batch + ".";
    case blend_outcome::too_much:
        return "What has to go in is " + text_from_above(b.missing, how) + " more than the batch" + of_batch + ".";
    }
    return "";
}

} // namespace detail

template <currency C>
std::vector<std::string> blend<C>::why_not(mass_division how) const {
    std::vector<std::string> sentences;
    if (made()) return sentences;
    sentences.push_back(detail::what_is_in_the_way(*this, how));
    for (const blend_remedy<C>& remedy : remedies)
        sentences.push_back(detail::text_from_above(remedy.more, how) + " more of " + sources[remedy.source].name +
                            " would do.");
    if (remedies.empty() && (outcome == blend_outcome::too_fat || outcome == blend_outcome::too_lean))
        sentences.emplace_back("No supply of any one of these sources would do by itself.");
    return sentences;
}

} // namespace tranche
