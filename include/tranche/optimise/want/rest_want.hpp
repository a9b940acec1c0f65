// Ways to plan that can go on from within a loin: what they are told of its rest, and what they give.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/want/want.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// One slab of portions that was cut from a loin of which the rest is planned, as what it is fit for.
struct portions_in_front {
    std::size_t spec = 0;      ///< index into the specs
    std::int64_t portions = 0; ///< how many the slab gave
    std::int64_t weight =
        0;              ///< of each, in micrograms of the profile: what it weighs, over the ratio of the loin to that
    length thickness{}; ///< that the slab was aimed at

    friend bool operator==(const portions_in_front&, const portions_in_front&) = default;
};

/// What is left of a loin that is being cut. `problem` starts behind what is cut, and its limits are those of a loin as heavy as
/// this one has turned out; it lives as long as the call that gets it.
struct rest_of_loin {
    const cutting_problem& problem;
    std::vector<demand> demands;        ///< what is asked for and not cut
    std::vector<portions_in_front> cut; ///< slabs of portions, from the rib
    double ratio = 1.0;                 ///< of what this loin weighs to what its profile says
};

/// A plan of the rest.
struct rest_plan {
    std::vector<grid_slab> stretches{}; ///< from where the problem starts to the sirloin face
    bool finite = true;                 ///< whether every score looked at was
    std::vector<demand_shortfall>
        shortfalls{};                      ///< what is asked for beside the demands of the request and cannot be had
    std::vector<score_part> score_parts{}; ///< as of `planned`: of the rest, each with what none exceeds
    search_end ended = search_end::by_itself;

    friend bool operator==(const rest_plan&, const rest_plan&) = default;
};

/// A want that no sum over slabs can say, and that plans the rest of a loin too: `want.rest(rest)` gives the plan. It has to
/// answer for all that is asked, or throw. `even_portions()` and `fewest_settings()` are such; a function that plans whole loins is
/// none, as it knows nothing of what is cut. Where it takes `search_limits` too, it is given those of the session:
/// want.rest(rest, search).
template <class W>
concept rest_want = planning_want<W> && requires(const W& want, const rest_of_loin& rest) {
    { want.rest(rest) } -> std::same_as<rest_plan>;
};

/// Where the type of a want would stand: a `cutting_session<any_want>` is of one type, whatever want it is made to plan by.
struct any_want {};

} // namespace tranche
