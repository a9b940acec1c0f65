// What is left of an order while a loin of it is cut: planned from what the loin's session says of its rest.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/optimise/plans/compact_problem.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/rest_want.hpp>
#include <tranche/orders/detail/loin_plans.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_batch.hpp>
#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_offers.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/orders/plan_order.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche::detail {

/// An order of which some is cut: its loins ready, how many of each are still whole, what was made, and the plan of what is left.
template <currency C>
class rest_of_order {
public:
    rest_of_order(order<C>&& wanted, const order_limits& limits)
        : wanted_(std::move(wanted)), limits_(limits), batch_(wanted_, limits.threads) {
        for (const order_loin<C>& loin : wanted_.loins) whole_.push_back(loin.count);
    }

    [[nodiscard]] const order<C>& wanted() const { return wanted_; }
    [[nodiscard]] const order_plan<C>& plan() const { return plan_; }
    [[nodiscard]] std::int64_t whole(std::size_t loin) const { return whole_[loin]; }
    void take(std::size_t loin) { --whole_[loin]; }
    void put_back(std::size_t loin) { ++whole_[loin]; }

    /// From now on plans are for what is wanted beside `made`, with the rest of a loin on the board.
    void on_board(std::size_t loin, std::vector<std::int64_t> made) {
        board_ = loin;
        made_ = std::move(made);
    }
    /// Plans the loins that are whole.
    void without_board(std::vector<std::int64_t> made) {
        made_ = std::move(made);
        plan_left(nullptr, 1.0, made_);
    }
    /// Plans the rest of the loin on the board, behind portions that were cut, and the loins that are whole.
    [[nodiscard]] rest_plan with_board(const rest_of_loin& rest) {
        std::vector<std::int64_t> made = made_;
        for (const portions_in_front& cut : rest.cut)
            if (cut.spec < made.size()) made[cut.spec] += cut.portions;
        plan_left(&rest.problem, rest.ratio, made);
        rest_plan plan{.ended = plan_.ended == order_end::stopped ? search_end::stopped : search_end::by_itself};
        plan.stretches = slabs_of(plan_.opened.front());
        plan.score_parts = {{static_cast<double>(plan_.value_billionths), static_cast<double>(plan_.bound_billionths)}};
        for (std::size_t j = 0; j < plan_.lines.size(); ++j)
            if (const std::int64_t missing = plan_.lines[j].unfilled; missing > 0)
                plan.shortfalls.push_back(
                    {.spec = j,
                     .wanted = wanted_.lines[j].at_least,
                     .possible = plan_.lines[j].made,
                     .text = wanted_.lines[j].cut.name + ": " + std::to_string(wanted_.lines[j].at_least) +
                             " ordered, and all loins together give " + std::to_string(plan_.lines[j].made)});
        return plan;
    }
    /// Prices as a single loin has them, at what the plan says of each line.
    [[nodiscard]] price_list<C> prices_now(double ratio = 1.0) const {
        price_list<C> prices = prices_of(wanted_);
        if (wanted_.remnant) prices.portions[wanted_.remnant->name].each = wanted_.labour.of(cuts_of(wanted_).back());
        for (auto& [name, price] : prices.portions) price.by_weight *= ratio;
        for (const destination d : all_destinations)
            if (prices.by_products[d]) *prices.by_products[d] *= ratio;
        return prices;
    }

private:
    /// What of a line is still wanted: as if its first `made` portions were another order's.
    [[nodiscard]] static order_line<C> left_of(order_line<C> line, std::int64_t made) {
        const std::int64_t above =
            line.at_most == demand::any_number ? 0 : std::max<std::int64_t>(made - line.at_most, 0);
        line.at_least = std::max<std::int64_t>(line.at_least - made, 0);
        if (line.at_most != demand::any_number) line.at_most = std::max<std::int64_t>(line.at_most - made, 0);
        line.carried = std::max<std::int64_t>(line.carried - above, 0);
        return line;
    }

    void plan_left(const cutting_problem* board, double ratio, const std::vector<std::int64_t>& made) {
        order<C> left = wanted_;
        left.loins.clear();
        std::vector<std::size_t> which; // of the order, by loin of what is left
        const auto add = [&](std::size_t loin, std::int64_t count) {
            left.loins.push_back(wanted_.loins[loin]);
            left.loins.back().count = count;
            which.push_back(loin);
        };
        if (board != nullptr) {
            add(board_, 1);
            left.loins.back().name += ", on the board"; // others of its kind may be whole
            left.loins.back().opening = loin_opening::always;
            left.loins.back().worth = money<C>{};
        }
        for (std::size_t i = 0; i < whole_.size(); ++i)
            if (whole_[i] > 0) add(i, whole_[i]);
        for (std::size_t j = 0; j < left.lines.size(); ++j) left.lines[j] = left_of(left.lines[j], made[j]);
        if (left.loins.empty())
            plan_ = {.lines = std::vector<filled_line>(left.lines.size()), .ended = order_end::proven};
        else
            plan_ = planned(left, which, board, ratio);
        for (opened_loin& opened : plan_.opened) opened.loin = which[opened.loin];
        for (unopened_loin& unopened : plan_.unopened) unopened.loin = which[unopened.loin];
        for (std::size_t j = 0; j < left.lines.size(); ++j) count(plan_.lines[j], wanted_.lines[j], made[j]);
    }
    /// Lines count what was made before.
    static void count(filled_line& filled, const order_line<C>& line, std::int64_t made) {
        filled.made += made;
        filled.most += made;
        filled.unfilled = std::max<std::int64_t>(line.at_least - filled.made, 0);
        const std::int64_t above =
            line.at_most == demand::any_number ? 0 : std::max<std::int64_t>(filled.made - line.at_most, 0);
        filled.carried = std::min(above, line.carried);
        filled.surplus = above - filled.carried;
    }

    /// What is left of the loin on the board, ready to be planned.
    struct ready_rest {
        std::size_t lines = 0, cuts = 0;
        std::uint32_t start = 0;
        std::optional<compact_problem> problem{};
        std::optional<loin_slabs> slabs{}; ///< where a small order is to be proven
        compact_workspace workspace{};

        template <class Objective>
        void make(const cutting_problem& of, const Objective& worth, bool listed) {
            start = static_cast<std::uint32_t>(of.start());
            problem.emplace(of, worth);
            if (!listed || of.links_slabs()) return;
            slabs.emplace(of, worth, lines);
            slabs->always = true;
        }
        [[nodiscard]] const compact_plan& best(std::span<const std::int64_t> prices) {
            cut_values values;
            values.each.assign(prices.begin(), prices.end());
            values.each.resize(cuts);
            return workspace.plan(*problem, values);
        }
        /// What a plan is worth but for what is paid by the piece.
        [[nodiscard]] std::int64_t worth(const compact_plan& plan, std::span<const std::int64_t> prices) const {
            std::int64_t rest = plan.score;
            for (std::size_t j = 0; j < lines; ++j) rest -= prices[j] * static_cast<std::int64_t>(plan.portions[j]);
            return rest;
        }
        [[nodiscard]] opened_loin cut_at(std::span<const std::int64_t> prices) {
            const compact_plan& plan = best(prices);
            opened_loin opened{.worth_billionths = worth(plan, prices), .start = start};
            for (std::size_t j = 0; j < lines; ++j)
                opened.portions.push_back(static_cast<std::uint32_t>(plan.portions[j]));
            for (const grid_slab& s : plan.stretches)
                opened.cuts.push_back({static_cast<std::uint32_t>(s.to), static_cast<std::uint16_t>(s.option), s.kind});
            return opened;
        }
        [[nodiscard]] opened_loin cut_into(const std::uint16_t* portions) const {
            line_counts counts;
            opened_loin opened{.start = start};
            for (std::size_t j = 0; j < lines; ++j) {
                counts.add(j, portions[j]);
                opened.portions.push_back(portions[j]);
            }
            opened.cuts = cuts_of(*slabs, counts);
            std::size_t from = start;
            for (const compact_cut& cut : opened.cuts) {
                const std::size_t option = cut.option + (cut.kind == slab_kind::portions ? slabs->loose_count : 0);
                opened.worth_billionths +=
                    slabs->worth({static_cast<std::uint32_t>(from), static_cast<std::uint16_t>(option)}, cut.to);
                from = cut.to;
            }
            return opened;
        }
    };

    /// Loin 0 of what is left is the one on the board, if there is one; `which` says which of the order the others are.
    [[nodiscard]] order_plan<C> planned(const order<C>& left, const std::vector<std::size_t>& which,
                                        const cutting_problem* board, double ratio) const {
        ready_rest rest{.lines = left.lines.size(), .cuts = left.lines.size() + (wanted_.remnant ? 1 : 0)};
        if (board != nullptr) {
            const worth_objective worth(*board, prices_now(ratio));
            if (wanted_.remnant)
                rest.make(*board, ends_at_the_face<worth_objective>{worth, board->option_count() - 1, board->cells()},
                          batch_.lists_plans());
            else
                rest.make(*board, worth, batch_.lists_plans());
        }
        const auto on_board = [&](std::size_t loin) { return board != nullptr && loin == 0; };
        const auto of_left = [](opened_loin opened, std::size_t loin) {
            opened.loin = loin;
            return opened;
        };
        loin_keepers keepers;
        keepers.pass = [&](std::span<const std::int64_t> prices, std::span<const std::uint32_t> loins,
                           order_offers& offers) {
            std::vector<std::uint32_t> others;
            for (const std::uint32_t loin : loins)
                if (!on_board(loin)) others.push_back(static_cast<std::uint32_t>(which[loin]));
            batch_.offers(prices, others, offers);
            if (others.size() == loins.size()) return;
            const compact_plan& plan = rest.best(prices);
            offers.worth.insert(offers.worth.begin(), rest.worth(plan, prices)); // the loin on the board is the first
            offers.portions.insert(offers.portions.begin(), plan.portions.begin(),
                                   plan.portions.begin() + static_cast<std::ptrdiff_t>(rest.lines));
        };
        keepers.cut = [&](std::span<const std::int64_t> prices, std::size_t loin) {
            return of_left(on_board(loin) ? rest.cut_at(prices) : batch_.cut_at(prices, which[loin]), loin);
        };
        if (!batch_.lists_plans()) return planned_order(left, limits_, keepers);
        keepers.list = [&](std::span<const std::int64_t> prices, std::size_t loin, std::int64_t most_loss,
                           std::size_t& most_labels) {
            if (!on_board(loin)) return batch_.plans_within(prices, which[loin], most_loss, most_labels);
            if (!rest.slabs) return std::optional<std::vector<priced_plan>>();
            return detail::plans_within(*rest.slabs, prices, most_loss, most_labels);
        };
        keepers.cut_by_counts = [&](std::size_t loin, const std::uint16_t* portions) {
            return of_left(on_board(loin) ? rest.cut_into(portions) : batch_.cut_into(which[loin], portions), loin);
        };
        return planned_order(left, limits_, keepers);
    }

    order<C> wanted_;
    order_limits limits_;
    order_batch batch_;
    std::vector<std::int64_t> whole_, made_;
    std::size_t board_ = 0;
    order_plan<C> plan_;
};

/// The want of a loin of an order on the board: its rest is what the plan of all that is left makes of it.
template <currency C>
class order_rest {
public:
    explicit order_rest(std::shared_ptr<rest_of_order<C>> of) : of_(std::move(of)) {}

    /// A whole loin by itself, at the order's prices.
    [[nodiscard]] planned operator()(const profile& meat, const cutting_request& request) const {
        price_list<C> prices = of_->prices_now();
        for (const order_line<C>& line : of_->wanted().lines) prices.portions[line.cut.name] = line.price;
        return plan(meat, request, best_value(prices));
    }
    [[nodiscard]] rest_plan rest(const rest_of_loin& left) const { return of_->with_board(left); }

private:
    std::shared_ptr<rest_of_order<C>> of_;
};

} // namespace tranche::detail
