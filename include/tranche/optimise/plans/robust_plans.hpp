// Plans for a knife that is not exact: the most portions inside their limits on average, or the highest worth on
// average.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/planned.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/knife_spread.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// score = Σ pieces × P(inside all limits), in billionths of a portion. By normal theory on the profile: an error e of
/// the thickness, e ~ N(bias, spread²), changes the weight by λ e, with λ the trimmed mass per length at the cut; so
/// the chance is that of the range of errors that keeps weight, thickness and second muscle. Exact on a prism;
/// elsewhere off by what the curve of the cumulative mass adds, of second order in the spread. Not separable: ends of
/// a range depend on both ends of the slab.
class expected_portions_objective {
public:
    using score_type = std::int64_t;

    /// The problem must outlive the objective. Throws what `validate` throws. `knife` has lengths: a finite bias, a
    /// spread of zero or more.
    expected_portions_objective(const cutting_problem& problem, const knife_spread& knife)
        : problem_(&problem), knife_(knife) {
        validate(knife);
    }
    expected_portions_objective(const cutting_problem&& problem, const knife_spread& knife) = delete;
    /// The score of slab [from, to) of `option`, in the unit of the score. Indices as for `slab_score`, not checked;
    /// throws nothing.
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const {
        if (!problem_->is_portion(option)) return 0;
        const detail::slab_under_knife s(*problem_, knife_, option, from, to);
        return std::llround(1e9 * problem_->pieces(option) * s.chance(s.within()));
    }

private:
    const cutting_problem* problem_;
    knife_spread knife_;
};

/// score = worth on average at the prices of a list, in billionths of the currency, under the same errors:
/// - a portion inside all limits is worth its price;
/// - one that is too heavy and otherwise inside is trimmed down to the largest weight, and what comes off is worth
///   what the first loose cut is;
/// - any other is worth what the first loose cut is;
/// - loose meat and trim are worth what they are in the plan.
///
/// A slab is taken to start where it is planned: with a bias, what each takes more is not taken from the next.
template <currency C>
class expected_value_objective {
public:
    using score_type = std::int64_t;

    /// The problem must outlive the objective. Throws what `validate` and `value_objective` throw; values beyond 4e9
    /// currency units are counted with what errors of the knife may add to the weights. Prices are by mass or by the
    /// piece, lengths of the knife as above.
    expected_value_objective(const cutting_problem& problem, const price_list<C>& prices, const knife_spread& knife)
        : problem_(&problem), knife_(knife), others_(problem, without_portions(problem, prices)),
          loose_(prices.of(problem.rules().loose.front().goes_to).value()) {
        validate(prices); // `others_` has not seen those of portions
        validate(knife);
        for (const cut_spec& spec : problem.specs()) prices_.push_back(prices.of(spec.name));
        require_room();
    }
    expected_value_objective(const cutting_problem&& problem, const price_list<C>& prices,
                             const knife_spread& knife) = delete;
    /// The score of slab [from, to) of `option`, in the unit of the score. Indices as for `slab_score`, not checked;
    /// throws nothing.
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const {
        const score_type others = slab_score(others_, option, from, to); // loose meat, and trim
        if (!problem_->is_portion(option)) return others;
        const detail::slab_under_knife s(*problem_, knife_, option, from, to);
        const portion_price<C>& price = prices_[option - problem_->loose_count()];
        const detail::error_range within = s.within(), heavy = s.heavy();
        const double most = static_cast<double>(problem_->window(option).most_weight);
        const double as_within = s.weight(within),
                     as_heavy = s.chance(heavy) > 0.0 ? detail::unfused(s.chance(heavy) * most) : 0.0;
        const double all = s.weight({-s.endless, s.endless}), sold = as_within + as_heavy;
        // A price in 1/kg is also billionths per microgram.
        return others +
               std::llround(detail::unfused(sold * price.by_weight.value()) + detail::unfused((all - sold) * loose_) +
                            detail::unfused(1e9 * problem_->pieces(option) * price.each.value() *
                                            (s.chance(within) + s.chance(heavy))));
    }
    /// A score as money. In the currency, unrounded, of any sign. Throws nothing.
    [[nodiscard]] static money<C> worth(score_type s) { return value_objective<C>::worth(s); }

private:
    /// So that the sums of a search stay within 64 bits, together with those of `others_`. Errors add at most what lies within
    /// bias and spread to the weight of a slab on average, and it sells at most at the highest rate.
    void require_room() const {
        const profile& meat = problem_->meat();
        const length last = meat.extent() - meat.position(meat.cells() - 1); // may be short
        std::int64_t heaviest = 0;
        for (std::size_t i = 0; i < meat.cells(); ++i) heaviest = std::max(heaviest, meat.between(i, i + 1).count);
        const double of_errors = static_cast<double>(heaviest) *
                                 (std::abs(knife_.bias.value()) + knife_.spread.value()) /
                                 std::min(last, meat.step()).value();
        double rate = 0.0, of_pieces = 0.0, weight = 0.0;
        for (std::size_t s = 0; s < prices_.size(); ++s) {
            const std::size_t o = problem_->loose_count() + s;
            const double slabs =
                static_cast<double>(meat.cells()) / static_cast<double>(problem_->window(o).least_cells) + 1.0;
            rate = std::max(rate, std::abs(prices_[s].by_weight.value()) + 2.0 * std::abs(loose_));
            weight = std::max(weight, static_cast<double>(meat.total().count) + slabs * of_errors);
            of_pieces = std::max(of_pieces, slabs * problem_->pieces(o) * std::abs(1e9 * prices_[s].each.value()));
        }
        const double all = rate * weight + of_pieces;
        if (!(all < 4e18))
            throw invalid_input("prices", detail::shown(1e-9 * all),
                                "values below 4e9 in all, the errors of the knife too");
    }

    [[nodiscard]] static price_list<C> without_portions(const cutting_problem& problem, price_list<C> prices) {
        for (const cut_spec& spec : problem.specs()) {
            static_cast<void>(prices.of(spec.name)); // throws if there is none
            prices.portions[spec.name] = {};
        }
        return prices;
    }

    const cutting_problem* problem_;
    knife_spread knife_;
    value_objective<C> others_;
    double loose_;
    std::vector<portion_price<C>> prices_;
};

/// What may become of the portions of each slab of a plan, whatever it was made for, on the profile that it was made
/// from; one entry a slab, and zeros for slabs without portions. Throws what `cutting_problem` and `validate` throw.
/// O(cells × specs + slabs). Chances are shares, 0 to 1. `knife` is as for `validate`: lengths.
template <class = detail::when_called>
[[nodiscard]] std::vector<portion_chances> chances_of(const cutting_plan& cuts, const profile& meat,
                                                      const knife_spread& knife) {
    validate(knife);
    const cutting_problem problem(meat, cuts.specs, cuts.rules);
    std::vector<portion_chances> all(cuts.slabs.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
        const slab& s = cuts.slabs[i];
        if (s.kind != slab_kind::portions) continue;
        const detail::slab_under_knife under(problem, knife, problem.loose_count() + s.option, meat.nearest(s.start),
                                             meat.nearest(s.end()));
        all[i] = under.chances();
    }
    return all;
}

/// How many portions of a plan are inside their limits on average. A plain number, 0 to the portions of the plan: Σ
/// pieces × P(within). `chances` must be those of `chances_of` this plan, one a slab, which is not checked. Throws
/// nothing. O(slabs).
template <class = detail::when_called>
[[nodiscard]] double expected_portions(const cutting_plan& cuts, const std::vector<portion_chances>& chances) {
    double sum = 0.0;
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i)
        if (cuts.slabs[i].kind == slab_kind::portions) sum += cuts.spec_of(cuts.slabs[i]).pieces * chances[i].within;
    return sum;
}

/// The most portions inside their limits on average, `expected_portions_objective`. Every slab is planned inside of
/// its limits; the knife decides how far. O(positions² + positions × cuts × window): some 10 ms for a loin of 42 cm
/// at 0.5 mm. Throws, when planned with, for a knife that is impossible. Scores are billionths of a portion.
/// The knife's bias is finite, its spread zero or more, both lengths. How likely each slab keeps its limits: `chances_of`.
template <class = detail::when_called>
[[nodiscard]] auto most_expected_portions(const knife_spread& knife) {
    return best_by<expected_portions_objective>(knife);
}
/// `plan(meat, request, most_expected_portions(knife))`. O(positions² + positions × cuts × window); throws what `plan`
/// throws, and for an impossible knife.
template <class = detail::when_called>
[[nodiscard]] planned most_expected_portions(const profile& meat, const cutting_request& request,
                                             const knife_spread& knife) {
    return plan(meat, request, most_expected_portions(knife));
}

/// The highest worth on average, `expected_value_objective`; otherwise as `most_expected_portions`. Throws, when
/// planned with, for a bad price and for a knife that is impossible. Scores are billionths of the currency. The knife
/// is as for `most_expected_portions`.
template <currency C>
[[nodiscard]] auto best_expected_value(price_list<C> prices, const knife_spread& knife) {
    return best_by<expected_value_objective<C>>(std::move(prices), knife);
}
/// `plan(meat, request, best_expected_value(prices, knife))`. Cost and errors as for `most_expected_portions`, and for
/// a bad or missing price.
template <currency C>
[[nodiscard]] planned best_expected_value(const profile& meat, const cutting_request& request,
                                          const price_list<C>& prices, const knife_spread& knife) {
    return plan(meat, request, best_expected_value(prices, knife));
}

} // namespace tranche
