// What demands still ask of the rest of a loin, and the best plan of it when that can no longer be had in full.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path_with_demand.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/session/actual_slab.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Portions of a spec that slabs which have been cut gave: those made another spec count for that, those given to the loose
/// meat for none, and those to be trimmed down for what they are.
template <class = when_called>
[[nodiscard]] std::int64_t portions_cut(std::span<const actual_slab> cut, const std::vector<cut_spec>& specs,
                                        std::size_t spec) {
    std::int64_t count = 0;
    for (const actual_slab& s : cut) {
        if (s.kind != slab_kind::portions || s.to_do == remedy::to_loose) continue;
        if ((s.to_do == remedy::another_spec ? s.other_spec : s.option) == spec) count += specs[spec].pieces;
    }
    return count;
}
template <class = when_called>
[[nodiscard]] std::int64_t portions_in(std::span<const grid_slab> plan, const std::vector<cut_spec>& specs,
                                       std::size_t spec) {
    std::int64_t count = 0;
    for (const grid_slab& s : plan)
        if (s.kind == slab_kind::portions && s.option == spec) count += specs[spec].pieces;
    return count;
}

/// The demands less what is cut and what is planned; not below zero.
template <class = when_called>
[[nodiscard]] std::vector<demand> demands_left(std::vector<demand> demands, const std::vector<cut_spec>& specs,
                                               std::span<const actual_slab> cut,
                                               std::span<const grid_slab> planned = {}) {
    for (demand& wanted : demands) {
        const std::size_t spec = spec_of(wanted, specs);
        const std::int64_t got = portions_cut(cut, specs, spec) + portions_in(planned, specs, spec);
        wanted.at_least = std::max<std::int64_t>(wanted.at_least - got, 0);
        if (wanted.at_most != demand::any_number) wanted.at_most = std::max<std::int64_t>(wanted.at_most - got, 0);
    }
    return demands;
}

/// What the rest has to go together with: slabs that are cut, as what they are fit for, and those planned in front of it. The
/// thickness is that of the first slab that was to have one; a slab made another cut has set none.
template <class = when_called>
[[nodiscard]] slabs_in_front in_front_of_rest(const cutting_problem& problem, std::span<const actual_slab> cut,
                                              std::span<const grid_slab> planned) {
    const std::vector<cut_spec>& specs = problem.specs();
    slabs_in_front before{std::vector<bool>(specs.size()), std::vector<length>(specs.size())};
    for (std::size_t spec = 0; spec < specs.size(); ++spec)
        before.cut[spec] = portions_cut(cut, specs, spec) + portions_in(planned, specs, spec) > 0;
    const auto set = [&](std::size_t spec, length thickness) {
        if (!(before.thickness[spec] > length{})) before.thickness[spec] = thickness;
    };
    for (const actual_slab& s : cut)
        if (s.kind == slab_kind::portions && s.to_do != remedy::to_loose && s.to_do != remedy::another_spec)
            set(s.option, s.aimed);
    for (const grid_slab& s : planned) {
        if (s.kind != slab_kind::portions) continue;
        const std::size_t option = problem.loose_count() + s.option, cells = problem.cells_of(option, s.from, s.to);
        set(s.option, unfused(static_cast<double>(cells) * problem.meat().step()) - problem.kerf(option));
    }
    return before;
}

/// By how much a plan of the rest misses what is left of the demands, one by one.
template <class = when_called>
[[nodiscard]] std::vector<demand_shortfall> missed_by(std::span<const grid_slab> plan, const std::vector<demand>& left,
                                                      const std::vector<cut_spec>& specs) {
    std::vector<demand_shortfall> missed;
    for (const demand& wanted : left) {
        const std::size_t spec = spec_of(wanted, specs);
        const std::int64_t planned = portions_in(plan, specs, spec);
        if (wanted.at_least <= planned && planned <= wanted.at_most) continue;
        const bool few = planned < wanted.at_least;
        missed.push_back({.spec = spec,
                          .wanted = few ? wanted.at_least : wanted.at_most,
                          .possible = planned,
                          .text = specs[spec].name + ": " + std::to_string(few ? wanted.at_least : wanted.at_most) +
                                  " more " + (few ? "asked for" : "allowed") + ", and the plan of the rest has " +
                                  std::to_string(planned)});
    }
    return missed;
}

/// The best tiling that has what is asked for. If there is none, the least numbers are lowered one after the other to what
/// can be had beside the others, and given up where that is not known; the largest ones are kept as long as they can be
/// searched. `outcome` is `met` only if nothing had to be lowered. O(demands) searches like `best_path_with_demand`.
template <objective O>
[[nodiscard]] demand_tiling<typename O::score_type> best_of_what_is_left(const cutting_problem& problem,
                                                                         const O& objective,
                                                                         std::vector<demand> demands) {
    auto first = best_path_with_demand(problem, objective, demands);
    if (!first.finite || first.outcome == demand_outcome::met) return first;
    auto best = first;
    for (std::size_t tries = 2 * demands.size(); best.finite && best.outcome != demand_outcome::met; --tries) {
        bool lowered = false;
        for (demand& wanted : demands) {
            if (wanted.at_least == 0) continue;
            if (best.outcome == demand_outcome::impossible && tries > 1) {
                const demand_shortfall& s = best.shortfalls.front();
                if (spec_of(wanted, problem.specs()) != s.spec) continue;
                wanted.at_least = std::max<std::int64_t>(std::min(s.possible, wanted.at_least - 1), 0);
            } else {
                wanted.at_least = 0;
            }
            lowered = true;
        }
        if (!lowered) break; // the largest numbers alone are too much to search
        best = best_path_with_demand(problem, objective, demands);
    }
    best.outcome = first.outcome;
    return best;
}

} // namespace tranche::detail
