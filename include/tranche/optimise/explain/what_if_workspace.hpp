// What-ifs as numbers, in room that is kept: for whoever asks them of loin after loin, and needs no plan behind each.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <span>
#include <utility>
#include <vector>

#include <tranche/loin/profile.hpp>
#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/optimise/explain/detail/what_if_room.hpp>
#include <tranche/optimise/explain/detail/wider_values.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/detail/same_number.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// What moving one limit a stated step is worth.
struct limit_gain {
    request_limit which;
    limit_value from{}, to{};
    double gain =
        0.0; ///< what the plan scores more, in units of the objective; NaN for scores that are no numbers, and
             ///< where a user's objective is not finite or the demands cannot be met with the change: then
             ///< nothing is said of portions either
    std::vector<double>
        gain_parts{};      ///< `gain`, or that of each part of a lexicographic score; empty where it is unknown
    double moved_by = 0.0; ///< how far, in metres, kilograms, shares, pieces or portions; 1 for what is not asked for
    std::int64_t more_portions = 0; ///< how many more there are
    micrograms more_in_portions{};  ///< how much more they weigh together

    /// Whether the limit binds: whether the plan scores more without the last step of it. Throws nothing.
    [[nodiscard]] bool binds() const {
        for (const double part : gain_parts)
            if (part != 0.0) return part > 0.0;
        return false;
    }
    /// The shadow price of the limit in units of the objective: gain for each metre, kilogram, whole share, piece or
    /// portion that it is moved, over the step from `from` to `to`. Plans are discrete, so another step has another
    /// price. A trim that leaves all is moved from the thickest that there is. Throws nothing.
    [[nodiscard]] double shadow_price() const { return gain / moved_by; }

    /// As of `planned`, NaN is the same as NaN.
    friend bool operator==(const limit_gain& a, const limit_gain& b) {
        const auto& [limit, was, is, gained, gained_parts, by, more, more_mass] = a;
        return limit == b.which && was == b.from && is == b.to && detail::same_number(gained, b.gain) &&
               detail::same_numbers(gained_parts, b.gain_parts) && by == b.moved_by && more == b.more_portions &&
               more_mass == b.more_in_portions;
    }
};

namespace detail {

/// How far `limit_costs` moves each limit unless told: far enough to be felt, near enough to be given.
inline constexpr limit_steps small_steps{.thickness = 1.0 * millimetre, .portion = 10.0 * gram, .share = 0.05};

/// f(limit, to, by) for each limit that can be moved, with how far, as `limit_costs` moves them; until it says no.
template <class F>
void each_step(const profile& meat, const cutting_request& request, const std::vector<request_limit>& limits,
               const limit_steps& steps, const F& f) {
    for (const request_limit& limit : limits) {
        if (limit.what == request_limit::kind::pieces) {
            const std::int64_t pieces = request.cuts[limit.index].pieces;
            if (pieces > 1 && !f(limit, limit_value{pieces - 1}, 1.0)) return;
            if (pieces < 100 && !f(limit, limit_value{pieces + 1}, 1.0)) return;
            continue;
        }
        using way = wider_values<>::way;
        for (const way which : {way::wider, way::less_left}) {
            if (which == way::less_left && !limit.of_a_trim()) continue;
            const wider_values values(meat, request, limit, steps, which);
            const auto to = values.one_step();
            if (to && !f(limit, *to, std::abs(raw_number(*to) - values.now()))) return;
        }
    }
}

/// Writes down what a plan with a limit moved has more than the one without.
inline void write_gain(limit_gain& gain, const plan_glance& now, const plan_glance& then) {
    gain.gain = std::numeric_limits<double>::quiet_NaN();
    gain.gain_parts.clear();
    gain.more_portions = 0;
    gain.more_in_portions = {};
    if (!then.known) return;
    for (std::size_t i = 0; i < then.parts.size(); ++i)
        gain.gain_parts.push_back(then.parts[i].value - now.parts[i].value);
    if (gain.gain_parts.size() == 1) gain.gain = gain.gain_parts.front();
    gain.more_portions = static_cast<std::int64_t>(then.portions) - static_cast<std::int64_t>(now.portions);
    gain.more_in_portions = then.in_portions - now.in_portions;
}

} // namespace detail

/// Room for what-ifs of whatever loins, requests and wants. It grows to the largest, and from then on allocates nothing of its own:
/// what the want needs for an objective is the want's. So for wants that are objectives (of no `banded_objective`) and requests
/// without demands, one thickness, an order, pinned cuts and rules on loose meat; others take what their searches take. Answers are
/// valid until the next call. Not to be shared by threads.
class what_if_workspace {
public:
    /// What `limit_costs` says, but for the plans. One search a limit; throws as that. Gains are in units of the objective;
    /// steps are lengths, masses and shares above zero.
    template <want W>
    [[nodiscard]] std::span<const limit_gain> limit_gains(const profile& meat, const cutting_request& request,
                                                          const W& written,
                                                          const limit_steps& steps = detail::small_steps,
                                                          const search_limits& search = {}) {
        validate(steps);
        const auto& want = detail::bound_to(written, request);
        detail::what_if_room& room = room_for(request);
        room.begin(meat, request);
        room.look_at_now(request, want, search);
        std::size_t found = 0;
        ended_ = search.stop() ? search_end::stopped : search_end::by_itself;
        if (room.now.feasible && ended_ == search_end::by_itself)
            detail::each_step(meat, request, room.limits, steps,
                              [&](const request_limit& limit, const limit_value& to, double by) {
                                  room.look(room.move(request, limit, to), want, search);
                                  if (search.stop()) {
                                      ended_ = search_end::stopped;
                                      return false;
                                  }
                                  if (found == gains_.size()) gains_.emplace_back();
                                  limit_gain& gain = gains_[found++];
                                  gain.which = limit;
                                  gain.from = value_of(request, limit);
                                  gain.to = to;
                                  gain.moved_by = by;
                                  detail::write_gain(gain, room.now, room.seen);
                                  return true;
                              });
        return {gains_.data(), found};
    }

    /// The changes that `nearest_feasible` finds, but for the plans; throws as that. Steps as above.
    template <want W>
    [[nodiscard]] std::span<const limit_move> nearest_feasible(const profile& meat, const cutting_request& request,
                                                               const W& written, const limit_steps& steps = {},
                                                               const search_limits& search = {}) {
        return moves_of(meat, request, false, detail::bound_to(written, request), steps, search);
    }
    /// The changes that `one_more_portion` finds, but for the plans; throws as that. Steps as above.
    template <want W>
    [[nodiscard]] std::span<const limit_move> one_more_portion(const profile& meat, const cutting_request& request,
                                                               const W& written, const limit_steps& steps = {},
                                                               const search_limits& search = {}) {
        return moves_of(meat, request, true, detail::bound_to(written, request), steps, search);
    }

    /// How the last study ended: `stopped`, and not all was looked at, or by itself. Throws nothing.
    [[nodiscard]] search_end ended() const { return ended_; }

private:
    [[nodiscard]] detail::what_if_room& room_for(const cutting_request& request) {
        return rooms_[{request.cuts.size(), request.rules.loose.size()}];
    }
    template <want W>
    [[nodiscard]] std::span<const limit_move> moves_of(const profile& meat, const cutting_request& request,
                                                       bool feasible, const W& want, const limit_steps& steps,
                                                       const search_limits& search) {
        moves_.clear();
        detail::what_if_room& room = room_for(request);
        ended_ = room.each_change(meat, request, feasible, want, steps, search, [&](limit_move move) {
            const auto& then = room.look(room.move(request, move.which, move.to), want, search);
            if (search.stop() || !room.has_plan(then) || (feasible && then.portions <= room.now.portions)) return;
            move.portions = then.portions;
            moves_.push_back(move);
        });
        return moves_;
    }

    /// One for each number of cuts and of loose cuts: lists that grow and shrink would let go what they hold.
    std::map<std::pair<std::size_t, std::size_t>, detail::what_if_room> rooms_;
    std::vector<limit_gain> gains_; ///< of these the first so many are the answer
    std::vector<limit_move> moves_;
    search_end ended_ = search_end::by_itself;
};

} // namespace tranche
