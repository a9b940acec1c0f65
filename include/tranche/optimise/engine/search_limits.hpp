// How far searches may go, who may stop them, and who is told of the best plan so far: one struct for all of them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <cstddef>
#include <functional>
#include <limits>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>

namespace tranche {

/// Asks whether a search is to stop: of a `std::stop_token`, or any function that says so. An empty one never does. Copies what it
/// is made of. It is asked in the thread of the search, once a pass over all positions (tens of microseconds at 1 mm, a
/// millisecond at 0.02 mm; longer for objectives by whole slabs).
class stop_signal {
public:
    stop_signal() = default;
    template <class Token>
    requires requires(const Token& token) {
        { token.stop_requested() } -> std::convertible_to<bool>;
    }
    /// Stops when the token says so. Throws nothing but for lack of memory.
    stop_signal(Token token) : asked_([token = std::move(token)] { return bool(token.stop_requested()); }) {} // NOLINT
    /// Stops when `asked()` says so, which is called without arguments. Throws nothing but for lack of memory.
    template <std::predicate Asked>
    requires(!std::same_as<Asked, stop_signal>) stop_signal(Asked asked) : asked_(std::move(asked)) {} // NOLINT

    /// Whether there is anybody to ask. Throws nothing.
    [[nodiscard]] explicit operator bool() const { return static_cast<bool>(asked_); }
    /// Whether to stop. Throws what the function does, which then leaves the search.
    [[nodiscard]] bool operator()() const { return asked_ && asked_(); }

private:
    std::function<bool()> asked_;
};

/// The best plan that a search knows of, and what no plan exceeds as far as it knows: what `search_limits::found` is told. The
/// parts of scores are those of `planned::score_parts`, empty for a score type of a user's own. Valid during the call; what
/// `lay_out` makes of the slabs is the plan, but for evening out.
struct incumbent {
    const std::vector<grid_slab>& slabs;
    std::vector<double> score, bound; ///< `bound` is empty while none is known
};

/// How a search ended.
enum class search_end {
    by_itself,   ///< with a proof, or where it would have ended anyway
    out_of_work, ///< `search_limits::most_passes` was reached
    stopped      ///< `search_limits::stop` said so
};

/// What a search for several things has found.
template <class T>
struct found_list : std::vector<T> {
    search_end ended = search_end::by_itself; ///< otherwise there may be more

    friend bool operator==(const found_list&, const found_list&) = default;
};

/// How far a search may go. What it has found until then is the answer, with a bound where one is known: `planned::stop` is
/// `gap_left`, or `demand_not_found` where no plan that meets the demands was found yet, and `searched.ended` says why. All limits
/// but `stop` count work and not time, so the same request has the same answer everywhere.
///
/// A search that takes one pass over the positions, as plain plans of separable objectives do, makes that pass and asks nobody.
struct search_limits {
    /// Of tables by states of demands: positions × states; a score and 8 bytes each. Beyond, demands are relaxed.
    std::size_t most_entries = std::size_t{1} << 22U;
    /// Of looking for prices, for each part of the score; each one pass.
    int rounds = 150;
    /// Beyond the exact states: go on until plan and bound meet, or so far as `most_states` lets it.
    bool prove = false;
    /// That a proof looks at, each a pass.
    std::size_t most_states = std::size_t{1} << 18U;
    /// Positions × count states of all searches together where demands meet cuts of one thickness, a second or two; a search by
    /// prices counts as many as take as long.
    std::size_t most_linked_entries = std::size_t{1} << 28U;
    /// Over all positions, one a state, in all searches for a plan together. At least one is made.
    std::size_t most_passes = std::numeric_limits<std::size_t>::max();
    stop_signal stop{};
    /// Told of each plan that is better than those before it, in the thread of the search. What it throws leaves the
    /// search.
    std::function<void(const incumbent&)> found{};
};

} // namespace tranche
