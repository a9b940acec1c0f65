// The loins of an order made ready to be planned again and again at prices, in little room.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include <tranche/cut/yield_table.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/plans/compact_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/orders/detail/loin_plans.hpp>
#include <tranche/orders/detail/prism_of.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_offers.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/study/run/each_task.hpp>
#include <tranche/study/run/executors.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// A want whose scores add up over loins: an objective for each, separable, in whole numbers. `best_value(prices)` is one; those
/// of lexicographic scores (`most_portions`) and those that plan as a whole (`even_portions`) are not. Scores count as
/// billionths of the order's currency.
template <class W>
concept additive_want = objective_want<W> && requires(const W& want, const cutting_problem& problem) {
    requires separable_objective<std::remove_cvref_t<decltype(want(problem))>>;
    requires std::same_as<typename std::remove_cvref_t<decltype(want(problem))>::score_type, std::int64_t>;
};

namespace detail {

/// An objective by which slabs of one option lie at the sirloin face only.
template <class Objective>
struct ends_at_the_face {
    using score_type = std::int64_t;
    Objective of;
    std::size_t option, cells;

    [[nodiscard]] score_type opening(std::size_t o, std::size_t from) const { return of.opening(o, from); }
    [[nodiscard]] score_type closing(std::size_t o, std::size_t to) const {
        constexpr score_type nowhere = -1'000'000'000'000'000'000; // no plan is worth a thousand million
        return o == option && to < cells ? nowhere : of.closing(o, to);
    }
};

/// So many threads as are asked for, or as the machine runs at once; no more than an executor has.
[[nodiscard]] inline std::size_t threads_for(std::size_t asked) {
    return std::clamp<std::size_t>(asked > 0 ? asked : std::thread::hardware_concurrency(), 1, 1024);
}

/// turn(i, room) for each i below `turns`, `room` below `most`. Where there are many turns they are short ones, so no thread has few.
template <class Turn>
void by_threads(std::size_t turns, std::size_t most, const Turn& turn) {
    const std::size_t team = std::min(most, turns < 512 ? turns : turns / 32);
    if (team < 2)
        each_task(serial{}, turns, turn);
    else
        each_task(threads(static_cast<unsigned>(team)), turns, turn);
}

/// What the facing is worth, which no plan can change, in billionths.
template <currency C>
[[nodiscard]] std::int64_t worth_of_facing(const cutting_problem& problem, const price_list<C>& prices) {
    if (problem.start() == 0) return 0;
    const profile& meat = problem.meat();
    const cutting_rules& rules = problem.rules();
    const yield_table whole(meat, rules.trim_whole);
    double worth = 0.0;
    for (const tissue t : all_tissues) {
        const std::int64_t kept = whole.kept_between(t, 0, {problem.start() - 1, 1.0});
        const std::int64_t all = meat.between(0, problem.start(), t).count;
        worth += unfused(static_cast<double>(kept) * prices.of(rules.facing_goes_to).value()) +
                 unfused(static_cast<double>(all - kept) * prices.of(rules.trim_goes_to[t]).value());
    }
    return std::llround(worth);
}

} // namespace detail

/// A range of the loins of an order, ready to be planned: some 15 KB each with twenty cuts at 1 mm, while profiles are gone. A
/// machine among several holds a range of them and answers for that.
class order_batch {
public:
    /// Of the loins [first, past) of an order, by all of them if `past` is left out. Tabulates each; O(cells × cuts) a loin.
    /// Throws `invalid_input` for what `validate` refuses, and for cuts, rules and loins that do not go together, by the loin's name.
    template <currency C>
    explicit order_batch(const order<C>& wanted, std::size_t threads = 1, std::size_t first = 0,
                         std::size_t past = std::numeric_limits<std::size_t>::max())
        : order_batch(wanted, best_by<worth_objective>(with_remnant(wanted)), threads, first, past) {}
    /// By a want instead of the order's prices by weight, by-products and labour; the facing counts nothing then.
    template <currency C, additive_want W>
    order_batch(const order<C>& wanted, const W& want, std::size_t threads = 1, std::size_t first = 0,
                std::size_t past = std::numeric_limits<std::size_t>::max())
        : first_(first), lines_(wanted.lines.size()), cuts_(lines_ + (wanted.remnant ? 1 : 0)),
          threads_(detail::threads_for(threads)) {
        validate(wanted);
        past = std::min(past, wanted.loins.size());
        if (first > past) throw invalid_input("first", std::to_string(first), "at most " + std::to_string(past));
        loins_.resize(past - first);
        detail::by_threads(loins_.size(), threads_,
                           [&](std::size_t i, std::size_t) { loins_[i] = made_ready(wanted, first + i, want); });
        if (loins_.size() == wanted.loins.size() && loins_.size() <= few)
            slabs_ = [wanted, want](std::size_t i, const ready_loin& ready) {
                return slabs_of_loin(wanted, i, want, ready);
            };
        for (std::size_t t = 0; t < threads_; ++t) rooms_.emplace_back(std::make_unique<room>());
    }

    [[nodiscard]] std::size_t first() const { return first_; }
    [[nodiscard]] std::size_t size() const { return loins_.size(); }
    [[nodiscard]] std::size_t lines() const { return lines_; }
    /// That plan loins side by side: `cut_at` takes numbers below it.
    [[nodiscard]] std::size_t threads() const { return threads_; }
    /// What they take in memory.
    [[nodiscard]] std::size_t bytes() const {
        std::size_t sum = sizeof *this;
        for (const ready_loin& loin : loins_) sum += sizeof loin + loin.problem->bytes();
        return sum;
    }

    /// The best plan of each of these loins (indices of the order, all in the range) at these prices: an `order_pass`. Not to be
    /// called by two threads at once; it uses its own. A price behind those of the lines is paid for each loin that is opened; then
    /// `opened` says which are. O(cells × cuts) a loin.
    template <class = detail::when_called>
    void offers(std::span<const std::int64_t> prices, std::span<const std::uint32_t> loins, order_offers& to) const {
        to.worth.assign(loins.size(), 0);
        to.portions.assign(loins.size() * lines_, 0);
        const bool counted = prices.size() > lines_;
        const std::int64_t for_opening = counted ? prices[lines_] : 0;
        to.opened.assign(counted ? loins.size() : 0, 0);
        const cut_values values = values_at(prices);
        detail::by_threads(loins.size(), threads_, [&](std::size_t i, std::size_t thread) {
            const ready_loin& loin = loins_[loins[i] - first_];
            const compact_plan& best = rooms_[thread]->workspace.plan(*loin.problem, values);
            if (!loin.always && best.score + loin.constant + for_opening <= 0) return;
            if (counted) to.opened[i] = 1;
            std::int64_t paid = 0;
            for (std::size_t j = 0; j < lines_; ++j) {
                paid += prices[j] * static_cast<std::int64_t>(best.portions[j]);
                to.portions[i * lines_ + j] = static_cast<std::uint16_t>(best.portions[j]);
            }
            to.worth[i] = best.score + loin.constant - paid;
        });
    }

    /// How a loin is cut that offers what it does at these prices, by one of the batch's threads: no two calls at once by the same.
    template <class = detail::when_called>
    [[nodiscard]] opened_loin cut_at(std::span<const std::int64_t> prices, std::size_t loin,
                                     std::size_t thread = 0) const {
        const ready_loin& of = loins_[loin - first_];
        const compact_plan& best = rooms_[thread]->workspace.plan(*of.problem, values_at(prices));
        opened_loin opened{.loin = loin, .worth_billionths = best.score + of.constant + of.cost, .start = of.start};
        for (std::size_t j = 0; j < lines_; ++j) {
            opened.portions.push_back(static_cast<std::uint32_t>(best.portions[j]));
            opened.worth_billionths -= prices[j] * static_cast<std::int64_t>(best.portions[j]);
        }
        for (const grid_slab& s : best.stretches)
            opened.cuts.push_back({static_cast<std::uint32_t>(s.to), static_cast<std::uint16_t>(s.option), s.kind});
        return opened;
    }

    /// Loin by loin whether only numbers of portions matter on it: an even face, and one thickness for each cut.
    [[nodiscard]] const std::optional<detail::loin_prism>& prism(std::size_t loin) const {
        return loins_[loin - first_].prism;
    }
    /// What opening a loin costs, in billionths, with what its facing gives.
    [[nodiscard]] std::int64_t cost(std::size_t loin) const { return -loins_[loin - first_].constant; }
    /// Whether the plans of a loin can be listed, as they can of all the loins of a small order.
    [[nodiscard]] bool lists_plans() const { return static_cast<bool>(slabs_); }
    /// See `detail::plans_within`; nothing also where slabs are linked, by an order of cuts or a thickness in common.
    template <class = detail::when_called>
    [[nodiscard]] std::optional<std::vector<detail::priced_plan>> plans_within(std::span<const std::int64_t> prices,
                                                                               std::size_t loin, std::int64_t most_loss,
                                                                               std::size_t& most_labels,
                                                                               const stop_signal& stop = {}) const {
        const auto slabs = slabs_(loin, loins_[loin]);
        if (!slabs) return std::nullopt;
        return detail::plans_within(*slabs, prices, most_loss, most_labels, stop);
    }
    /// How a loin is cut for just these portions, one of its listed plans.
    template <class = detail::when_called>
    [[nodiscard]] opened_loin cut_into(std::size_t loin, const std::uint16_t* portions) const {
        const auto slabs = slabs_(loin, loins_[loin]);
        detail::line_counts counts;
        opened_loin opened{.loin = loin, .start = loins_[loin].start};
        for (std::size_t j = 0; j < lines_; ++j) {
            counts.add(j, portions[j]);
            opened.portions.push_back(portions[j]);
        }
        opened.cuts = detail::cuts_of(*slabs, counts);
        std::size_t from = slabs->start;
        opened.worth_billionths = slabs->constant + loins_[loin].cost;
        for (const compact_cut& cut : opened.cuts) {
            const auto option =
                static_cast<std::uint16_t>(cut.option + (cut.kind == slab_kind::portions ? slabs->loose_count : 0));
            opened.worth_billionths += slabs->worth({static_cast<std::uint32_t>(from), option}, cut.to);
            from = cut.to;
        }
        return opened;
    }

private:
    static constexpr std::size_t few = 64;

    struct ready_loin {
        std::optional<compact_problem> problem{};
        std::optional<detail::loin_prism> prism{};
        std::int64_t cost = 0, constant = 0; ///< its worth unopened; what is added to scores
        std::uint32_t start = 0;
        bool always = false;
    };
    struct room {
        compact_workspace workspace;
    };

    /// A remnant is not cut for anybody: no labour.
    template <currency C>
    [[nodiscard]] static price_list<C> with_remnant(const order<C>& wanted) {
        price_list<C> prices = prices_of(wanted);
        if (wanted.remnant) prices.portions[wanted.remnant->name].each = wanted.labour.of(cuts_of(wanted).back());
        return prices;
    }
    /// All slabs of a loin, anew.
    template <currency C, additive_want W>
    [[nodiscard]] static std::optional<detail::loin_slabs> slabs_of_loin(const order<C>& wanted, std::size_t i,
                                                                         const W& want, const ready_loin& ready) {
        const auto meat = wanted.loins[i].meat();
        auto [cuts, rules] = request_of(wanted, i);
        const cutting_problem problem(*meat, std::move(cuts), std::move(rules));
        if (problem.links_slabs()) return std::nullopt;
        const auto objective = want(problem);
        const std::size_t remnant = wanted.remnant ? problem.option_count() - 1 : problem.option_count();
        detail::loin_slabs slabs(
            problem,
            detail::ends_at_the_face<std::remove_cvref_t<decltype(objective)>>{objective, remnant, problem.cells()},
            wanted.lines.size());
        slabs.constant = ready.constant;
        slabs.always = ready.always;
        return slabs;
    }
    template <currency C, additive_want W>
    [[nodiscard]] static ready_loin made_ready(const order<C>& wanted, std::size_t i, const W& want) {
        const order_loin<C>& of = wanted.loins[i];
        try {
            const auto meat = of.meat();
            auto [cuts, rules] = request_of(wanted, i);
            const cutting_problem problem(*meat, std::move(cuts), std::move(rules));
            const auto objective = want(problem);
            ready_loin loin;
            if (!wanted.remnant) loin.prism = detail::prism_of(problem, objective);
            if (wanted.remnant)
                loin.problem.emplace(problem, detail::ends_at_the_face<std::remove_cvref_t<decltype(objective)>>{
                                                  objective, problem.option_count() - 1, problem.cells()});
            else
                loin.problem.emplace(problem, objective);
            loin.always = of.opening == loin_opening::always;
            loin.cost = of.opening == loin_opening::first ? 0 : std::llround(of.worth.value() * 1e9);
            loin.constant = -loin.cost;
            if constexpr (std::same_as<std::remove_cvref_t<decltype(objective)>, worth_objective>)
                loin.constant += detail::worth_of_facing(problem, prices_of(wanted));
            loin.start = static_cast<std::uint32_t>(problem.start());
            return loin;
        } catch (const invalid_input& bad) {
            throw within(of.name + ": ", bad);
        }
    }
    [[nodiscard]] cut_values values_at(std::span<const std::int64_t> prices) const {
        cut_values values;
        prices = prices.first(std::min(prices.size(), lines_));
        values.each.assign(prices.begin(), prices.end());
        values.each.resize(cuts_); // a remnant has no price by the piece
        return values;
    }

    std::size_t first_, lines_, cuts_, threads_;
    std::vector<ready_loin> loins_;
    std::vector<std::unique_ptr<room>> rooms_; ///< one a thread
    std::function<std::optional<detail::loin_slabs>(std::size_t, const ready_loin&)>
        slabs_; ///< of a loin of a small order
};

} // namespace tranche
