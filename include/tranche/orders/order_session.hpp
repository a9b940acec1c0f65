// Cutting for an order: loins come on the board one after the other, and with each weight what is left of the order is planned again.
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

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/session/plan_as_cut.hpp>
#include <tranche/optimise/session/session_state.hpp>
#include <tranche/orders/detail/order_rest.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_plan.hpp>

namespace tranche {

/// A loin that was on the board, as a value: which, what was read of it, and, once it is off the board, what was left and what
/// became of the slabs, if that was said.
struct order_board {
    std::size_t loin = 0; ///< index into the order's loins
    session_state readings{};
    std::optional<mass> rest{};   ///< as weighed at the end
    std::vector<slab_use> uses{}; ///< one for each slab, or none: what its remedy says

    friend bool operator==(const order_board&, const order_board&) = default;
};

/// All that an `order_session` knows apart from the order: loins that are done, in the order in which they came, and the one on the board.
struct order_session_state {
    std::vector<order_board> done{};
    std::optional<order_board> board{};

    friend bool operator==(const order_session_state&, const order_session_state&) = default;
};

/// A loin of an order that is cut.
struct finished_loin {
    std::size_t loin = 0;                 ///< index into the order's loins
    cutting_plan as_cut{};                ///< as the scale had it: `plan_as_cut`
    std::vector<std::int64_t> portions{}; ///< by line

    friend bool operator==(const finished_loin&, const finished_loin&) = default;
};

/// An order while it is cut. One loin at a time lies on the board, with a `cutting_session` of its own: after each weight that
/// learns how heavy the loin is, and everything that is not cut yet, the rest of that loin and the loins that are still whole, is
/// planned again for what the order still wants. So what a heavy loin frees is not opened, and what a light one misses comes out
/// of others. What was cut counts as it turned out, not as it was planned.
///
/// Which loin is opened next is up to the cutter: `next_loin` is the first of the plan. Loins of one kind are alike
/// until they are on the board. Without an order of cuts or one thickness a step takes a plan of the order
/// (`plan_order`) whose loins are ready. Masses are kilograms; members throw nothing but what they say, and those that
/// plan again what `plan_order` throws.
template <currency C>
class order_session {
public:
    /// Throws as `plan_order`, and for spreads as `cutting_session`.
    explicit order_session(order<C> wanted, const cutting_spreads& spreads = {}, const order_limits& limits = {})
        : spreads_(spreads), rest_(std::make_shared<detail::rest_of_order<C>>(std::move(wanted), limits)) {
        validate(spreads);
        plan_rest();
    }
    /// Goes on from where a session of this order was: same advice to the last digit. The order may have changed since in prices and
    /// demands. Throws as above, and `invalid_input` for a state of other loins, by its place: "done[1].readings.entries[0].weight".
    order_session(order<C> wanted, const order_session_state& from, const cutting_spreads& spreads = {},
                  const order_limits& limits = {})
        : order_session(std::move(wanted), spreads, limits) {
        for (std::size_t i = 0; i < from.done.size(); ++i) {
            take_up(from.done[i], "done[" + std::to_string(i) + "].");
            finish(from.done[i].rest, from.done[i].uses);
        }
        if (from.board) take_up(*from.board, "board.");
    }

    /// The order as it was given.
    [[nodiscard]] const order<C>& wanted() const { return rest_->wanted(); }
    /// The plan of all that is not cut: `opened` are loins that are still to be opened and, first, what is to come of the one on the board;
    /// indices are those of the order. Its lines count what was made as well, and values are those of what is to come.
    [[nodiscard]] const order_plan<C>& plan() const { return rest_->plan(); }
    /// The loin to open next, by the plan; none if no more are needed.
    [[nodiscard]] std::optional<std::size_t> next_loin() const {
        const std::size_t first = next() ? 1 : 0; // behind the rest of the one on the board
        if (first < plan().opened.size()) return plan().opened[first].loin;
        return std::nullopt;
    }
    /// How many of a kind are still whole. Throws `invalid_input` for an index that no loin has.
    [[nodiscard]] std::int64_t whole(std::size_t loin) const {
        require_loin(loin);
        return rest_->whole(loin);
    }

    /// Puts a loin on the board. Throws `invalid_input` while another one lies there, and if none of its kind is left.
    void open(std::size_t loin) {
        put_on_board(loin, nullptr);
        plan_rest();
    }
    /// Whether a loin lies on the board.
    [[nodiscard]] bool on_board() const { return board_.has_value(); }
    /// The session of the loin on the board. Throws `invalid_input` if there is none.
    [[nodiscard]] const auto& board() const { return *required_board().session; }
    /// Where the knife goes next on the board; none if there is no loin, or it is cut up.
    [[nodiscard]] std::optional<next_cut> next() const {
        if (!board_) return std::nullopt;
        return board_->session->next();
    }

    /// Takes in a slab of the loin on the board; see `cutting_session::record`, whose errors it throws, and as `board`.
    const actual_slab& record(const slab_reading& reading) {
        const actual_slab& slab = required_board().session->record(reading);
        plan_rest();
        return slab;
    }
    /// Takes in the weight of all that is left of it; see `cutting_session::weigh_rest`. Throws what that throws, and
    /// as `board`.
    void weigh_rest(mass weight) {
        required_board().session->weigh_rest(weight);
        plan_rest();
    }
    /// Takes the last reading of the loin on the board back; false if there is none. Throws as `board`.
    bool undo() {
        if (!required_board().session->undo()) return false;
        plan_rest();
        return true;
    }
    /// Takes the loin off the board: what was cut of it counts, what is left of it is loose meat. `rest_weighed` and `uses` are those of
    /// `plan_as_cut`, whose errors it throws, and as `board`.
    const finished_loin& finish(std::optional<mass> rest_weighed = {}, std::span<const slab_use> uses = {}) {
        const auto& session = *required_board().session;
        finished_loin loin{.loin = board_->loin, .as_cut = plan_as_cut(session, rest_weighed, uses)};
        loin.portions = counted(loin.as_cut);
        done_.push_back({board_->loin, session.state(), rest_weighed, {uses.begin(), uses.end()}});
        finished_.push_back(std::move(loin));
        board_.reset();
        plan_rest();
        return finished_.back();
    }

    /// Loins that are done, in the order in which they came.
    [[nodiscard]] std::span<const finished_loin> finished() const { return finished_; }
    /// Portions that were made of each line, those of the loin on the board among them. Whole numbers, zero or more.
    [[nodiscard]] std::vector<std::int64_t> made() const {
        std::vector<std::int64_t> made(wanted().lines.size());
        const auto add = [&](const std::vector<std::int64_t>& portions) {
            for (std::size_t line = 0; line < made.size(); ++line) made[line] += portions[line];
        };
        for (const finished_loin& loin : finished_) add(loin.portions);
        if (board_ && !board_->session->slabs().empty()) add(counted(plan_as_cut(*board_->session)));
        return made;
    }
    /// All that a session needs to go on from here. O(readings).
    [[nodiscard]] order_session_state state() const {
        order_session_state state{.done = done_, .board = {}};
        if (board_)
            state.board =
                order_board{.loin = board_->loin, .readings = board_->session->state(), .rest = {}, .uses = {}};
        return state;
    }

private:
    using loin_session = cutting_session<detail::order_rest<C>>;
    struct loin_on_board {
        std::size_t loin = 0;
        std::shared_ptr<const profile> meat{};
        std::unique_ptr<loin_session> session{};
    };

    void require_loin(std::size_t loin) const {
        if (loin >= wanted().loins.size())
            throw invalid_input("loin", std::to_string(loin),
                                "an index below " + std::to_string(wanted().loins.size()));
    }
    [[nodiscard]] const loin_on_board& required_board() const {
        if (!board_) throw invalid_input("board", "no loin", "one that is opened");
        return *board_;
    }

    void put_on_board(std::size_t loin, const session_state* from) {
        require_loin(loin);
        if (board_)
            throw invalid_input("loin", wanted().loins[loin].name,
                                "none while " + wanted().loins[board_->loin].name + " is on the board");
        if (rest_->whole(loin) < 1) throw invalid_input("loin", wanted().loins[loin].name, "one that is still whole");
        auto [cuts, rules] = request_of(wanted(), loin);
        loin_on_board board{.loin = loin, .meat = wanted().loins[loin].meat()};
        rest_->take(loin);
        rest_->on_board(loin, made());
        const detail::order_rest<C> want(rest_);
        cutting_request request{std::move(cuts), std::move(rules), {}};
        try {
            board.session = from == nullptr
                                ? std::make_unique<loin_session>(*board.meat, std::move(request), want, spreads_)
                                : std::make_unique<loin_session>(*board.meat, std::move(request), want, *from);
        } catch (...) {
            rest_->put_back(loin);
            throw;
        }
        board_ = std::move(board);
    }
    void take_up(const order_board& board, const std::string& place) {
        try {
            if (board.loin >= wanted().loins.size())
                throw invalid_input("loin", std::to_string(board.loin), "the index of a loin of the order");
            put_on_board(board.loin, &board.readings);
        } catch (const invalid_input& error) {
            throw within(place + "readings.", error);
        }
        plan_rest();
    }

    /// The session on the board has planned already, and with it everything else, unless it is cut up.
    void plan_rest() {
        if (board_ && board_->session->next()) return;
        rest_->without_board(made());
    }

    /// Portions of each line in a plan as it was cut; what was halved is no product of the order.
    [[nodiscard]] std::vector<std::int64_t> counted(const cutting_plan& cuts) const {
        std::vector<std::int64_t> portions(wanted().lines.size());
        for (const slab& s : cuts.slabs)
            if (s.kind == slab_kind::portions && s.option < portions.size())
                portions[s.option] += cuts.spec_of(s).pieces;
        return portions;
    }

    cutting_spreads spreads_;
    std::shared_ptr<detail::rest_of_order<C>> rest_;
    std::optional<loin_on_board> board_;
    std::vector<finished_loin> finished_;
    std::vector<order_board> done_;
};

} // namespace tranche
