// The bound on one part of a score by Lagrange multipliers, and the search that follows them: on numbers, whatever the score.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/detail/demands/count_walk.hpp>
#include <tranche/optimise/engine/detail/demands/price_search.hpp>
#include <tranche/optimise/engine/detail/demands/priced_score.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// What a relaxation has to know of plans whose score it sees only as numbers, up to the leaf that it bounds.
template <class Number>
class relaxed_plans {
public:
    relaxed_plans() = default;
    relaxed_plans(const relaxed_plans&) = delete;
    relaxed_plans& operator=(const relaxed_plans&) = delete;
    virtual ~relaxed_plans() = default;

    /// The leaves of the score of a plan; takes it as the answer if it meets the demands and is better.
    virtual std::vector<Number> offer(const std::vector<grid_slab>& stretches, bool meets) = 0;
    /// The leaf that is bounded, of the best plan known.
    [[nodiscard]] virtual Number best() const = 0;
    [[nodiscard]] virtual bool found() const = 0;
    /// Whether that plan is as good in the leaf as this bound, and what is known of the others.
    virtual bool met(Number bound) = 0;
    virtual beam_outcome<Number> search(const beam_limits& limits, std::function<std::optional<Number>()> target) = 0;
    /// Makes ready for that, and says how wide a narrow search may be.
    virtual std::size_t start_search(Number offset, const beam_limits& narrow) = 0;
};

/// What a leaf is, and how it counts.
struct bounded_leaf {
    std::size_t index = 0;
    bool whole = true, last = true; ///< whether it is a whole number, and the last one
    std::vector<double> largest;    ///< term of each leaf up to this one
};

/// The bound on one leaf of the score, of plans that meet the rows and whose leaves before it are at least those of the
/// answer:
///
///     leaf ≤ max over all plans of (leaf + Σ p_j (leaf j - its value) + Σ m_k n_k) - Σ m_k (least_k if m_k ≥ 0,
///            most_k if m_k < 0)
///
/// where n_k are the slabs of row k, m_k are not below zero for a row without a cap, and no p_j is. The right-hand side is
/// a bound whatever the multipliers; `price_search` says which to look at next.
/// Plans on the way that meet the rows, and those of a beam, are offered to the answer. It sees an objective as numbers, and is
/// compiled once for all objectives of a kind.
template <class Number, separable_slabs Kind>
class leaf_relaxation {
public:
    leaf_relaxation(const cutting_problem& problem, priced_objective<Number, Kind>& priced,
                    const std::vector<slab_demand>& rows, const bounded_leaf& leaf, std::vector<Number> floor,
                    relaxed_plans<Number>& plans, search_clock& clock)
        : problem_(problem), rows_(rows), leaf_(leaf), floor_(std::move(floor)), plans_(plans), clock_(clock),
          priced_(priced) {
        const double positions = static_cast<double>(problem.cells()) + 1.0;
        const auto most_of = [&](double largest) { return 2.0 * positions * largest; }; // of all slabs together
        now_.price.assign(leaf.index + 1, Number{});
        now_.price.back() = 1;
        now_.bonus.resize(problem.option_count());
        if constexpr (std::is_integral_v<Number>) {
            const double most = most_of(leaf.largest.back());
            while (scale() < finest && 2.0 * static_cast<double>(scale()) * most <= 0x1p50) now_.price.back() *= 2;
        }
        // Far beyond any use, and so that sums stay within 64 bits.
        const double shares = static_cast<double>(rows.size() + leaf.index + 1);
        beyond_.assign(rows.size(), std::min(1e15, 0x1p60 / (positions * shares)));
        for (std::size_t j = 0; j < leaf.index; ++j) {
            unit_.push_back(std::max(leaf.largest[j], 1.0));
            beyond_.push_back(0x1p60 / (most_of(unit_.back()) * shares));
        }
    }

    struct result {
        bool met = false, impossible = false;
        Number by_prices{}, bound{}; ///< in units of the leaf
        std::vector<double> prices;  ///< by row, in units of the leaf
        std::size_t states = 0;      ///< that a proof has looked at
    };

    /// The least bound found. A proof looks at no more than so many states.
    [[nodiscard]] result run(std::size_t states) {
        const search_limits& limits = clock_.limits();
        result known;
        find_prices(limits.rounds);
        known.by_prices = bound();
        for (const slab_demand& row : rows_)
            known.prices.push_back(static_cast<double>(best_prices_.bonus[row.option]) /
                                   static_cast<double>(best_prices_.scale()));
        if (!met() && !clock_.stopped()) {
            Number offset{};
            for (std::size_t j = 0; j < leaf_.index; ++j) offset += product_of(best_prices_.price[j], floor_[j]);
            priced_.set(best_prices_);
            const beam_limits narrow{};
            look({.width = plans_.start_search(offset, narrow)}, std::nullopt);
            if (limits.prove) known.states = prove(states);
        }
        known.met = met();
        known.impossible = impossible_;
        known.bound = bound();
        return known;
    }

private:
    [[nodiscard]] Number scale() const { return now_.scale(); }
    [[nodiscard]] bool met() { return plans_.met(bound()); }

    void find_prices(int rounds) {
        price_search<> search(rows_for_search());
        path_workspace<priced_objective<Number, Kind>> room;
        for (int round = 0; round < std::max(rounds, 1); ++round) {
            if (!clock_.go_on() && round > 0) return; // without a first one there is no bound
            const Number constant = set_prices(search.prices());
            const auto& highest = room.best_path(problem_, priced_);
            const Number bound_now = highest.score - constant;
            if (round == 0 || bound_now < least_bound_) {
                least_bound_ = bound_now;
                best_prices_ = now_;
            }
            const std::vector<std::int64_t> counts = slabs_of(problem_, rows_, highest.stretches);
            const std::vector<Number> leaves = plans_.offer(highest.stretches, all_met(rows_, counts));
            if (met()) return;
            const auto high = static_cast<double>(bound_now), unit = static_cast<double>(scale());
            search.found(high, unit * static_cast<double>(leaves.back()), sums_of(counts, leaves),
                         plans_.found() ? unit * static_cast<double>(plans_.best())
                                        : high - unfused(0.05 * std::abs(high)));
            if (!search.advance(std::max(unfused(1e-6 * std::abs(high)), 1e-4 * unit))) break;
        }
    }

    /// The least value that plans have which are better than the best one known in this leaf.
    [[nodiscard]] Number better() const {
        const Number now = scale() * plans_.best();
        if constexpr (std::is_integral_v<Number>)
            return now + scale();
        else
            return leaf_.whole ? now + 0.5 : now + unfused(1e-12 * std::abs(now)); // what is less than that is rounding
    }

    /// Looks for plans of at least this value, or for any that is better; returns the states looked at, and whether that was
    /// everywhere.
    std::pair<std::size_t, bool> look(const beam_limits& limits, std::optional<Number> least) {
        const auto target = [this, least]() -> std::optional<Number> {
            if (!plans_.found()) return least;
            // Where the leaves behind this one may be better, one as good is looked at as well.
            const Number next = leaf_.last || least ? better() : scale() * plans_.best();
            return std::max(least.value_or(next), next);
        };
        const beam_outcome<Number> outcome = plans_.search(limits, target);
        Number highest = outcome.above.value_or(std::numeric_limits<Number>::lowest());
        if (least) highest = std::max(highest, *least);
        if (plans_.found())
            least_bound_ = std::min(least_bound_, std::max(highest, scale() * plans_.best()));
        else if (!outcome.above && !least)
            impossible_ = true;
        else
            least_bound_ = std::min(least_bound_, highest);
        return {outcome.states, !outcome.above};
    }

    /// Looks for plans near the bound first, so that little is searched if there is one or the bound falls; then further
    /// down. Returns the states looked at.
    [[nodiscard]] std::size_t prove(std::size_t states) {
        std::size_t seen = 0;
        for (const int part : {16, 4, 1}) {
            if (met() || impossible_ || seen >= states) break;
            std::optional<Number> least;
            if (plans_.found() && part > 1)
                least = least_bound_ - (least_bound_ - better()) / static_cast<Number>(part);
            const beam_limits limits{
                .width = std::numeric_limits<std::size_t>::max(), .states = states - seen, .kept = most_kept};
            const auto [looked_at, everywhere] = look(limits, least);
            seen += looked_at;
            if (!everywhere) break;
        }
        return seen;
    }

    /// A whole number cannot lie between two.
    [[nodiscard]] Number bound() const {
        if constexpr (std::is_integral_v<Number>) {
            const Number quotient = least_bound_ / scale(); // towards zero
            return quotient * scale() > least_bound_ ? quotient - 1 : quotient;
        } else {
            if (leaf_.whole)
                return std::floor(std::clamp(least_bound_, -0x1p62, 0x1p62)); // behind one that is not whole
            return least_bound_;
        }
    }

    [[nodiscard]] static Number whole(double multiplier) {
        if constexpr (std::is_integral_v<Number>)
            return static_cast<Number>(std::llround(multiplier));
        else
            return multiplier;
    }

    /// Returns what the bound is less than the best sum.
    [[nodiscard]] Number set_prices(const std::vector<double>& prices) {
        Number constant{};
        for (std::size_t k = 0; k < rows_.size(); ++k) {
            const Number m = whole(prices[k]);
            now_.bonus[rows_[k].option] = m;
            constant += m * static_cast<Number>(m < Number{} ? rows_[k].most : rows_[k].least);
        }
        for (std::size_t j = 0; j < leaf_.index; ++j) {
            now_.price[j] = whole(prices[rows_.size() + j] / unit_[j]);
            constant += now_.price[j] * floor_[j];
        }
        priced_.set(now_);
        return constant;
    }

    [[nodiscard]] std::vector<priced_row> rows_for_search() const {
        std::vector<priced_row> result;
        for (const slab_demand& row : rows_)
            result.push_back({static_cast<double>(row.least), row.capped() ? static_cast<double>(row.most) : 0.0,
                              row.capped(), beyond_[result.size()]});
        for (std::size_t j = 0; j < leaf_.index; ++j) {
            const double beyond = beyond_[result.size()] * unit_[j];
            result.push_back({static_cast<double>(floor_[j]) / unit_[j], 0.0, false, beyond});
        }
        return result;
    }
    /// What those rows limit, of one plan.
    [[nodiscard]] std::vector<double> sums_of(const std::vector<std::int64_t>& counts,
                                              const std::vector<Number>& leaves) const {
        std::vector<double> sums(counts.begin(), counts.end());
        for (std::size_t j = 0; j < leaf_.index; ++j) sums.push_back(static_cast<double>(leaves[j]) / unit_[j]);
        return sums;
    }

    static constexpr std::size_t most_kept = std::size_t{1} << 25U; ///< entries of a proof, of a score and 8 bytes
    static constexpr std::int64_t finest = std::int64_t{1} << 20U;  ///< prices are multiples of one over this

    const cutting_problem& problem_;
    const std::vector<slab_demand>& rows_;
    const bounded_leaf& leaf_;
    std::vector<Number> floor_; ///< what the leaves before are to reach
    relaxed_plans<Number>& plans_;
    search_clock& clock_;
    priced_objective<Number, Kind>& priced_;
    std::vector<double> beyond_,
        unit_; ///< no price is larger, of rows, then of the leaves before; those in what they count
    leaf_prices<Number> now_, best_prices_;
    Number least_bound_{};
    bool impossible_ = false;
};

} // namespace tranche::detail
