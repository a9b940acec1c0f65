// Demands beyond the reach of count states: a bound by Lagrange multipliers, and a plan that they lead to.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/detail/demands/count_beam.hpp>
#include <tranche/optimise/engine/detail/demands/count_walk.hpp>
#include <tranche/optimise/engine/detail/demands/price_search.hpp>
#include <tranche/optimise/engine/detail/demands/priced_score.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/engine/detail/search_clock.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// What is known so far of the best plan that meets the demands.
template <class Score>
struct relaxed_answer {
    bool found = false, impossible = false; ///< impossible: proven that there is none
    std::vector<grid_slab> stretches;
    Score score{}, bound{};
    Score by_prices{};          ///< what prices alone bound it by
    std::vector<double> prices; ///< by row: what one more slab costs, in units of the first leaf
    std::size_t states = 0;     ///< that proofs have looked at
};

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

/// The plans of an objective: what a relaxation leaves to the score itself.
template <objective O, class Number>
class relaxed_plans_of final : public relaxed_plans<Number> {
public:
    using score_type = typename O::score_type;
    using priced = priced_objective<Number, separable_slabs_of<O>>;

    relaxed_plans_of(const cutting_problem& problem, const O& objective, const priced& at_prices,
                     const std::vector<slab_demand>& rows, const order_states& orders, std::size_t leaf,
                     search_clock& clock, relaxed_answer<score_type>& answer)
        : problem_(problem), objective_(objective), at_prices_(at_prices), rows_(rows), orders_(orders), leaf_(leaf),
          clock_(clock), answer_(answer) {}

    std::vector<Number> offer(const std::vector<grid_slab>& stretches, bool meets) override {
        score_type score{};
        for (const grid_slab& s : stretches)
            score =
                score + slab_score(objective_, s.option + (s.kind == slab_kind::portions ? problem_.loose_count() : 0),
                                   s.from, s.to);
        if (meets) take(stretches, score);
        std::vector<Number> leaves;
        for (std::size_t j = 0; j <= leaf_; ++j) leaves.push_back(leaf_as<Number>(score, j));
        return leaves;
    }
    [[nodiscard]] Number best() const override { return leaf_as<Number>(answer_.score, leaf_); }
    [[nodiscard]] bool found() const override { return answer_.found; }
    bool met(Number bound) override {
        if (!answer_.found) return false;
        bool less = false;
        score_type bounded{};
        set_leaf(bounded, leaf_, bound);
        with_leaf(answer_.score, bounded, leaf_, [&](const auto& has, const auto& most) { less = has < most; });
        return !less;
    }
    beam_outcome<Number> search(const beam_limits& limits, std::function<std::optional<Number>()> target) override {
        return beam_->run(limits, std::move(target), clock_);
    }
    std::size_t start_search(Number offset, const beam_limits& narrow) override {
        beam_.emplace(
            problem_, objective_, at_prices_, offset, rows_, orders_,
            [this](const std::vector<grid_slab>& stretches, const score_type& score) { take(stretches, score); });
        return std::min(narrow.width, beam_->width_within(narrow.kept));
    }

private:
    void take(const std::vector<grid_slab>& stretches, const score_type& score) {
        if (forbids(score)) return; // in a part that is not relaxed
        if (answer_.found && !(answer_.score < score)) return;
        answer_.found = true;
        answer_.score = score;
        answer_.stretches = stretches;
        clock_.found(stretches, score);
    }

    const cutting_problem& problem_;
    const O& objective_;
    const priced& at_prices_;
    const std::vector<slab_demand>& rows_;
    const order_states& orders_;
    std::size_t leaf_;
    search_clock& clock_;
    relaxed_answer<score_type>& answer_;
    std::optional<count_beam<O, Number>> beam_;
};

/// The score leaf by leaf: the first is bounded and plans are looked for; where one reaches the bound, the next leaf is
/// bounded among plans that do; where none does, the leaves behind it are bounded by what each can reach by itself. So
/// plan and bound agree in the leaves that are proven best, the first one that is not has the bound of its relaxation, and
/// the bound as a whole is one in the order that scores have.
template <objective O>
class relaxed_demand {
public:
    using score_type = typename O::score_type;
    /// Whether there is a number to put prices on.
    static constexpr bool has_prices = numbers_first<score_type, 1>;

    relaxed_demand(const cutting_problem& problem, const O& objective, const std::vector<slab_demand>& rows,
                   search_clock& clock)
        : problem_(problem), objective_(objective), rows_(rows), clock_(clock),
          orders_(order_states_within(problem, most_ordered_entries)) {}

    [[nodiscard]] relaxed_answer<score_type> run() requires has_prices {
        relax_leaf<0>();
        if (answer_.found && answer_.bound < answer_.score)
            answer_.bound = answer_.score; // rounding of floating scores
        return answer_;
    }

private:
    static constexpr separable_slabs kind = separable_slabs_of<O>;

    template <std::size_t I>
    void relax_leaf() {
        if constexpr (I == leaf_count<score_type>) {
            return;
        } else if constexpr (!numbers_first<score_type, I + 1>) {
            bound_alone<I>();
        } else {
            using number = std::conditional_t<whole_numbers_first<score_type, I + 1>, std::int64_t, double>;
            if (relax<number>({.index = I,
                               .whole = std::is_integral_v<leaf_type<score_type, I>>,
                               .last = I + 1 == leaf_count<score_type>}))
                relax_leaf<I + 1>();
            else
                bound_alone<I + 1>();
        }
    }
    /// Whether a plan is as good as the bound in the leaf.
    template <class Number>
    [[nodiscard]] bool relax(bounded_leaf leaf) {
        std::vector<Number> floor;
        for (std::size_t j = 0; j <= leaf.index; ++j) {
            leaf.largest.push_back(largest_term(problem_, objective_, j));
            if (j < leaf.index) floor.push_back(leaf_as<Number>(answer_.score, j));
        }
        priced_objective<Number, kind> priced(problem_, objective_);
        relaxed_plans_of<O, Number> plans(problem_, objective_, priced, rows_, orders_, leaf.index, clock_, answer_);
        leaf_relaxation<Number, kind> relaxation(problem_, priced, rows_, leaf, std::move(floor), plans, clock_);
        const std::size_t states = clock_.limits().most_states;
        const auto known = relaxation.run(states - std::min(states, answer_.states));
        set_leaf(answer_.by_prices, leaf.index, known.by_prices);
        set_leaf(answer_.bound, leaf.index, known.bound);
        if (leaf.index == 0) answer_.prices = known.prices;
        answer_.states += known.states;
        answer_.impossible = answer_.impossible || known.impossible;
        return known.met;
    }
    template <std::size_t I>
    void bound_alone() {
        if constexpr (I < leaf_count<score_type>) {
            using leaf = leaf_type<score_type, I>;
            if constexpr (number_score<leaf>) {
                using number = std::conditional_t<std::is_integral_v<leaf>, std::int64_t, double>;
                priced_objective<number, kind> alone(problem_, objective_);
                alone.set({.first = I, .price = {1}, .bonus = std::vector<number>(problem_.option_count())});
                set_leaf(answer_.bound, I, best_path(problem_, alone).score);
            } else {
                std::get<I>(leaves_of(answer_.bound)) = best_path(problem_, leaf_alone<O, I>{&objective_}).score;
            }
            with_leaf(answer_.by_prices, answer_.bound, I, [](auto& to, const auto& from) { to = from; });
            bound_alone<I + 1>();
        }
    }

    const cutting_problem& problem_;
    const O& objective_;
    const std::vector<slab_demand>& rows_;
    search_clock& clock_;
    order_states orders_;
    relaxed_answer<score_type> answer_;
};

} // namespace tranche::detail
