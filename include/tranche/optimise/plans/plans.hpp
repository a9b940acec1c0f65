// The named wants: most portions, least waste, best value, least giveaway; each also as a call that plans at once.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/giveaway.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// The most portions that meet the limits of their cuts; among those the most mass in portions. With one cut of a given
/// thickness this is how many such slices the loin gives, squared at the rib end. Throws nothing; when planned with,
/// what `kept_mass_objective` throws. Counts are portions, masses whole micrograms.
template <class = detail::when_called>
[[nodiscard]] auto most_portions() {
    return [](const cutting_problem& problem) { return kept_mass_objective::portions_then_mass(problem); };
}
/// `plan(meat, {cuts, rules, demands}, most_portions())`, and throws as that. All named calls are such; without the argument
/// no search for demands is compiled.
template <class = detail::when_called>
[[nodiscard]] planned most_portions(const profile& meat, const cut_list& cuts, const cutting_rules& rules = {}) {
    return detail::plan_cuts(meat, cuts, rules, most_portions());
}
/// The same with demands, in portions.
template <class = detail::when_called>
[[nodiscard]] planned most_portions(const profile& meat, const cut_list& cuts, const cutting_rules& rules,
                                    const std::vector<demand>& demands) {
    return plan(meat, {cuts, rules, demands}, most_portions());
}

/// The most mass in portions that meet their limits, which leaves the least as trim, loose meat and loss; among equals
/// the most portions. Throws as `most_portions`. Masses are whole micrograms.
template <class = detail::when_called>
[[nodiscard]] auto least_waste() {
    return [](const cutting_problem& problem) { return kept_mass_objective::mass_then_portions(problem); };
}
/// `plan(meat, {cuts, rules, demands}, least_waste())`, and throws as that.
template <class = detail::when_called>
[[nodiscard]] planned least_waste(const profile& meat, const cut_list& cuts, const cutting_rules& rules = {}) {
    return detail::plan_cuts(meat, cuts, rules, least_waste());
}
/// The same with demands, in portions.
template <class = detail::when_called>
[[nodiscard]] planned least_waste(const profile& meat, const cut_list& cuts, const cutting_rules& rules,
                                  const std::vector<demand>& demands) {
    return plan(meat, {cuts, rules, demands}, least_waste());
}

/// The highest worth of portions, loose meat and trim at these prices, less the labour on portions: a mix of products.
/// Every cut needs a price. Scores are billionths of the currency. Negative values of by-products are costs of
/// disposal. Throws, when planned with, for a price that is missing or not finite. Prices are by mass or by the piece,
/// any finite ones.
template <currency C>
[[nodiscard]] auto best_value(price_list<C> prices) {
    return best_by<worth_objective>(std::move(prices));
}
/// `plan(meat, {cuts, rules, demands}, best_value(prices))`, and throws as that.
template <currency C>
[[nodiscard]] planned best_value(const profile& meat, const cut_list& cuts, const price_list<C>& prices,
                                 const cutting_rules& rules = {}) {
    return detail::plan_cuts(meat, cuts, rules, best_value(prices));
}
/// The same with demands, in portions.
template <currency C>
[[nodiscard]] planned best_value(const profile& meat, const cut_list& cuts, const price_list<C>& prices,
                                 const cutting_rules& rules, const std::vector<demand>& demands) {
    return plan(meat, {cuts, rules, demands}, best_value(prices));
}

namespace detail {

struct least_giveaway_want {
    charged_weights charged{};

    /// Right for all charges.
    [[nodiscard]] auto operator()(const cutting_problem& problem) const {
        static_cast<void>(may_be_short(problem)); // throws for a charge that is missing
        return lexicographic(portion_count_objective(problem), overweight_objective(problem, charged));
    }
    /// With the charges said outright: a what-if that lowers a least portion leaves them.
    [[nodiscard]] least_giveaway_want for_request(const cutting_request& request) const {
        least_giveaway_want fixed = *this;
        for (const cut_spec& cut : request.cuts)
            if (cut.portion.min > mass{}) fixed.charged.try_emplace(cut.name, cut.portion.min);
        return fixed;
    }
    /// Quick where no portion can be short.
    template <class Use>
    decltype(auto) with_objective(const cutting_problem& problem, const Use& use) const {
        const portion_count_objective count(problem);
        if (may_be_short(problem)) return use(lexicographic(count, overweight_objective(problem, charged)));
        return use(lexicographic(count, giveaway_objective(problem, charged)));
    }

private:
    [[nodiscard]] bool may_be_short(const cutting_problem& problem) const {
        const std::vector<cut_spec>& specs = problem.specs();
        const std::vector<mass> charges = charges_of(specs, charged);
        bool may_be = false;
        for (std::size_t s = 0; s < specs.size(); ++s) {
            if (!(charges[s] > mass{}))
                throw invalid_input("weight charged for " + specs[s].name, "none",
                                    "a weight, or a least portion of the cut");
            may_be = may_be || charges[s] > specs[s].portion.min;
        }
        return may_be;
    }
};

} // namespace detail

/// The most portions, and among plans of as many the least weight in them above what is charged for: portions are
/// charged at a fixed weight each, by the name of their cut, or at the least one that the cut allows. Where all charges
/// are at or below that, portions cannot be short, and the search is as quick as for `most_portions`; otherwise, and in
/// a session, it takes two bands of weight for each cut, and short portions give nothing away. What-ifs keep the
/// charges of the request that is asked about. Minus the giveaway in micrograms is `score_parts[1]`. Throws, when
/// planned with, for a charge that is missing, bad, or for a cut that does not exist. Charges are masses above zero.
template <class = detail::when_called>
[[nodiscard]] detail::least_giveaway_want least_giveaway(charged_weights charged = {}) {
    return {std::move(charged)};
}
/// `plan(meat, {cuts, rules, demands}, least_giveaway(charged))`, and throws as that.
template <class = detail::when_called>
[[nodiscard]] planned least_giveaway(const profile& meat, const cut_list& cuts, const charged_weights& charged = {},
                                     const cutting_rules& rules = {}) {
    return detail::plan_cuts(meat, cuts, rules, least_giveaway(charged));
}
/// The same with demands, in portions.
template <class = detail::when_called>
[[nodiscard]] planned least_giveaway(const profile& meat, const cut_list& cuts, const charged_weights& charged,
                                     const cutting_rules& rules, const std::vector<demand>& demands) {
    return plan(meat, {cuts, rules, demands}, least_giveaway(charged));
}

} // namespace tranche
