// Goes through a cut sheet step by step, from its loins to its answer.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/doubts.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/report/tables/what_if_tables.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/sheet_bill.hpp>
#include <tranche/sheet/detail/sheet_grind.hpp>
#include <tranche/sheet/detail/sheet_model.hpp>
#include <tranche/sheet/detail/sheet_orders.hpp>
#include <tranche/sheet/detail/sheet_request.hpp>
#include <tranche/sheet/detail/sheet_trade.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_planning.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Each limit of each cut is planned with a dozen times, and a plan takes as long as there are cuts: what-ifs take the
/// square of their number. With more cuts than this nobody would wait for them.
inline constexpr std::size_t most_cuts_of_what_ifs = 12;
/// The order is planned again for the first few of them.
inline constexpr std::size_t most_loins_of_helps = 40;

/// What is said of a sheet whose study was not run: `study_sheet` takes it back.
[[nodiscard]] inline sentence not_studied() {
    return "The study that the sheet asks for was not run: study_sheet runs it.";
}

template <class = when_called>
class sheet_planner {
public:
    sheet_planner(const cut_sheet& sheet, const sheet_planning& how)
        : how_(how), choice_(currency_of_sheet(sheet)), answer_{.sheet = sheet}, sheet_(answer_.sheet) {
        check();
        prices_ = prices_of(sheet_);
        request_ = sheet_.thicknesses.empty() ? request_of(sheet_) : request_of(sheet_, sheet_.thicknesses.front());
        ordered_ = !sheet_.orders.empty();
        what_ifs_ =
            how_.what_ifs && !ordered_ && aims_at_a_score(sheet_) && request_.cuts.size() <= most_cuts_of_what_ifs;
        replan_ = sheet_.plan_for == sheet_aim::best_value && sheet_.grind.has_value();
        const std::size_t loins = sheet_.loins.size(), guesses = static_cast<std::size_t>(std::count_if(
                                                           sheet_.loins.begin(), sheet_.loins.end(),
                                                           [](const sheet_loin&l) { return l.stations.empty(); }));
        if (ordered_)
            steps_ = 1U + (replan_ ? 1U : 0U) + (looks_for_helps() ? 1U : 0U);
        else
            steps_ = loins * (1U + (replan_ ? 1U : 0U) + (what_ifs_ ? 1U : 0U)) + guesses + sheet_.thicknesses.size();
    }

    [[nodiscard]] sheet_answer answer() {
        for (const sheet_loin& loin : sheet_.loins) model(loin);
        plan_loins("planning ");
        settle_prices();
        if (replan_) {
            plan_loins("planning again, at what the grind is worth, ");
            settle_prices();
        }
        if (ordered_ && looks_for_helps()) look_for_helps();
        for (const sheet_cut& cut : sheet_.cuts) answer_.all.cuts.push_back({.name = cut.spec.name});
        for (std::size_t i = 0; i < sheet_.loins.size(); ++i) {
            if (!answer_.loins[i].opened) continue;
            settle(answer_.loins[i], i, meat_[i]);
            if (answer_.loins[i].guess && !ordered_) spread(i);
            if (what_ifs_) what_ifs(i);
            add_account(answer_.all, answer_.loins[i].account);
        }
        for (const length& thickness : sheet_.thicknesses) compare(thickness);
        add_prices_needed(answer_.all, sheet_);
        for (loin_answer& loin : answer_.loins) add_prices_needed(loin.account, sheet_);
        answer_.offers = ranked_offers_of(answer_);
        answer_.menu = menu_of(sheet_, answer_.all);
        answer_.labels = labels_of(sheet_, answer_.loins);
        remark();
        return std::move(answer_);
    }

private:
    /// What no reader would let pass, for sheets that were put together by a program.
    void check() const {
        if (sheet_.loins.empty()) throw invalid_input("[loin]", "none", "at least one");
        if (sheet_.cuts.empty()) throw invalid_input("[cut ...]", "none", "at least one");
        const bool by_sales = sheet_.retail && sheet_.retail->share_cost_by == cost_share::sales_value;
        for (const sheet_cut& cut : sheet_.cuts) {
            if (cut.price || cut.price_each) continue;
            const std::string key = "[cut " + cut.spec.name + "] price";
            if (sheet_.plan_for == sheet_aim::best_value)
                throw invalid_input(key, "nothing", "a price, or a price each: the plan is for best value");
            if (by_sales)
                throw invalid_input(key, "nothing",
                                    "a price, or a price each: the cost is shared by what cuts sell for");
        }
        for (const sheet_loin& loin : sheet_.loins) {
            require_positive(loin.weight, heading_of(loin) + " weight");
            require_positive(board_weight(loin), heading_of(loin) + " weight on the board");
            if (!(board_weight(loin) <= loin.weight))
                throw invalid_input(heading_of(loin) + " weight on the board", board_weight(loin),
                                    sentence("at most the invoiced weight, ") + rounded_down(loin.weight));
        }
        if (sheet_.retail && !(sheet_.retail->shrink >= 0.0 && sheet_.retail->shrink < 1.0))
            throw invalid_input("shrink", shown(sheet_.retail->shrink), "a share of less than 100 %");
        if (sheet_.retail) require_not_negative(sheet_.retail->tare, "tare");
        if (sheet_.retail && sheet_.retail->margin && !(*sheet_.retail->margin < 1.0))
            throw invalid_input("margin", shown(*sheet_.retail->margin), "a share of less than 100 %");
    }

    [[nodiscard]] static std::string named(const sheet_loin& loin) {
        return loin.name.empty() ? "the loin" : "loin " + loin.name;
    }
    void say(const std::string& doing) {
        ++step_;
        if (how_.progress) how_.progress({doing, step_, steps_});
    }
    [[nodiscard]] bool stopped() const { return how_.search.stop(); }

    void model(const sheet_loin& loin) {
        loin_answer& answer = answer_.loins.emplace_back();
        answer.name = loin.name;
        measured_loin read;
        if (loin.stations.empty()) {
            const loin_proportions kind = proportions_of(loin);
            read = typical_readings(loin, kind);
            answer.guess =
                guess_spread{.kind = std::string(kind.name),
                             .length_spread = kind.length.spread,
                             .slice_weight_spread = std::hypot(kind.length.spread, kind.local_mass_per_length.spread)};
        } else {
            read = taped_readings_of(loin);
            answer.scale = scale_against_tape(read, board_weight(loin));
        }
        if (loin.length) answer.doubts = doubts(read);
        answer.loin = on_the_scale(loin, read, grid_of(sheet_));
        meat_.push_back(tabulate(answer.loin, grid_of(sheet_)));
    }

    [[nodiscard]] planned plan_of(const profile& meat, const cutting_request& request) const {
        planned found =
            with_want(sheet_, prices_, [&](const auto& want) { return plan(meat, request, want, how_.search); });
        // A second opinion before anybody takes up a knife.
        if (const auto faults = verify(found.plan, meat, request.cuts, request.rules); !faults.empty())
            throw std::logic_error("the plan does not hold: " + faults.front());
        return found;
    }

    void plan_loins(const std::string& doing) {
        if (ordered_) return plan_orders(doing);
        for (std::size_t i = 0; i < sheet_.loins.size(); ++i) {
            say(doing + named(sheet_.loins[i]));
            answer_.loins[i].planned = plan_of(meat_[i], request_);
        }
        answer_.grind = grind_of(sheet_, answer_.loins);
    }
    /// Opens what the orders take. A loin that is opened has the plan that the order has of it.
    void plan_orders(const std::string& doing) {
        say(doing + "the order");
        const sheet_orders<> orders(sheet_, prices_, meat_);
        const order_plan<chosen_currency>& found = found_ = plan_order(orders.planned(), limits());
        for (loin_answer& loin : answer_.loins) {
            loin.opened = false;
            loin.planned = {};
        }
        for (const opened_loin& opened : found.opened) {
            loin_answer& loin = answer_.loins[opened.loin];
            const profile& meat = meat_[opened.loin];
            loin.opened = true;
            loin.planned.plan = lay_out(meat, request_.cuts, request_.rules, slabs_of(opened));
            loin.planned.stop = found.proven() ? stop_reason::optimal : stop_reason::gap_left;
            loin.planned.searched = {.positions = meat.cells() + 1,
                                     .options = request_.cuts.size() + request_.rules.loose.size()};
            if (const auto faults = verify(loin.planned.plan, meat, request_.cuts, request_.rules); !faults.empty())
                throw std::logic_error("the plan does not hold: " + faults.front());
        }
        answer_.order = orders.answer(found);
        answer_.grind = grind_of(sheet_, answer_.loins);
    }
    [[nodiscard]] order_limits limits() const {
        order_limits limits;
        limits.stop = how_.search.stop;
        return limits;
    }
    [[nodiscard]] bool looks_for_helps() const {
        return how_.what_ifs && sheet_.plan_for == sheet_aim::best_value && sheet_.loins.size() <= most_loins_of_helps;
    }
    void look_for_helps() {
        say("looking for what would help the order");
        if (stopped()) return;
        const sheet_orders<> orders(sheet_, prices_, meat_);
        answer_.order->suppliers = rank_suppliers(orders.planned(), orders.suppliers(), limits());
        if (stopped()) return;
        answer_.order->helps = loins_that_help(orders.planned(), found_, limits());
    }

    /// What bills credit, which the plans of a second round go by.
    void settle_prices() { prices_ = credited_prices(std::move(prices_), sheet_, answer_.grind); }

    void settle(loin_answer& loin, std::size_t i, const profile& meat) const {
        settle_loin(loin, sheet_, sheet_.loins[i], prices_);
        if (loin.settled)
            loin.saved = comparisons(sheet_, sheet_.loins[i], prices_, meat, loin.planned.plan, *loin.settled);
        loin.account = account_of(loin, sheet_, sheet_.loins[i]);
    }

    void what_ifs(std::size_t i) {
        say("looking for what would help, " + named(sheet_.loins[i]));
        loin_answer& loin = answer_.loins[i];
        if (stopped() || loin.planned.searched.ended == search_end::stopped) return;
        loin.found = with_score_want(sheet_, prices_, [&](const auto& want) {
            search_limits search = how_.search;
            search.found = {}; // what might be is no plan of this sheet
            return what_ifs_of(meat_[i], request_, want, kitchen_of(sheet_), search);
        });
    }

    /// What loins a standard deviation from the typical one give.
    void spread(std::size_t i) {
        const sheet_loin& loin = sheet_.loins[i];
        say("planning loins that might be, " + named(loin));
        guess_spread& guess = *answer_.loins[i].guess;
        take_in(guess, answer_.loins[i]);
        const loin_proportions typical = proportions_of(loin);
        for (const double deviation : {-1.0, 1.0})
            for (const bool of_length : {true, false}) {
                if (stopped() || (of_length && typical.length.spread == 0.0)) continue;
                loin_proportions kind = typical;
                if (of_length)
                    kind.length.value *= std::exp(deviation * kind.length.spread);
                else
                    for (length* cover : {&kind.fat_cover.rib, &kind.fat_cover.middle, &kind.fat_cover.sirloin})
                        *cover *= std::exp(deviation * kind.fat_cover.spread);
                try_kind(i, kind, guess);
            }
    }
    void try_kind(std::size_t i, const loin_proportions& kind, guess_spread& guess) const {
        sheet_loin loin = sheet_.loins[i];
        if (kind.length.spread > 0.0) loin.length.reset();
        loin_answer other;
        try {
            other.loin = on_the_scale(loin, typical_readings(loin, kind), grid_of(sheet_));
        } catch (const invalid_input&) { // no loin is like that
            return;
        }
        const profile meat = tabulate(other.loin, grid_of(sheet_));
        other.planned = plan_of(meat, request_);
        settle(other, i, meat);
        take_in(guess, other);
    }
    static void take_in(guess_spread& guess, const loin_answer& loin) {
        const sheet_account& account = loin.account;
        const std::size_t count = account.portions();
        const bool first = guess.heaviest.count == 0 && guess.most == 0;
        guess.fewest = first ? count : std::min(guess.fewest, count);
        guess.most = std::max(guess.most, count);
        guess.lightest = first ? account.portion_weight() : std::min(guess.lightest, account.portion_weight());
        guess.heaviest = std::max(guess.heaviest, account.portion_weight());
        if (!account.primary_value || count == 0) return;
        const sheet_amount each{mean_of(account.primary_value->minor, static_cast<std::int64_t>(count))};
        guess.least = guess.least ? std::min(*guess.least, each) : each;
        guess.dearest = guess.dearest ? std::max(*guess.dearest, each) : each;
    }

    void compare(length thickness) {
        say("planning one thickness");
        if (stopped()) return;
        thickness_account row{.thickness = thickness, .feasible = true};
        const cutting_request request = request_of(sheet_, thickness);
        for (std::size_t i = 0; i < sheet_.loins.size(); ++i) {
            loin_answer loin;
            loin.planned =
                thickness == sheet_.thicknesses.front() ? answer_.loins[i].planned : plan_of(meat_[i], request);
            settle(loin, i, meat_[i]);
            row.feasible = row.feasible && loin.planned.feasible();
            add_account(row.account, loin.account);
        }
        add_prices_needed(row.account, sheet_);
        answer_.thicknesses.push_back(std::move(row));
    }

    void remark() {
        const auto add = [&](sentence says) { answer_.remarks.push_back(std::move(says)); };
        const bool numbers = std::any_of(sheet_.cuts.begin(), sheet_.cuts.end(),
                                         [](const sheet_cut& c) { return c.at_least || c.at_most; });
        if (sheet_.loins.size() > 1 && numbers) add("Numbers of portions are asked of each loin by itself.");
        if (how_.what_ifs && aims_at_a_score(sheet_) && !what_ifs_ && !ordered_)
            add("What would help was not looked for, and neither is what limits cost: the sheet has " +
                std::to_string(sheet_.cuts.size()) + " cuts, and both are for " +
                std::to_string(most_cuts_of_what_ifs) + " at most.");
        if (stopped())
            add("The search was stopped: plans may not be the best, and some of what was asked is left out.");
        if (sheet_.study) add(not_studied());
    }

    const sheet_planning& how_;
    currency_choice choice_;
    sheet_answer answer_;
    const cut_sheet& sheet_; ///< the one in the answer
    price_list<chosen_currency> prices_;
    cutting_request request_;
    std::vector<profile> meat_;
    order_plan<chosen_currency> found_; ///< of the orders
    bool what_ifs_ = false, replan_ = false, ordered_ = false;
    std::size_t step_ = 0, steps_ = 0;
};

} // namespace tranche::detail
