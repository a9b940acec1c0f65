// What demands still ask of the rest of a loin, and what slabs in front leave it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/optimise/session/actual_slab.hpp>
#include <tranche/optimise/want/rest_want.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/micrograms.hpp>

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

/// The demands less what is cut; not below zero.
template <class = when_called>
[[nodiscard]] std::vector<demand> demands_left(std::vector<demand> demands, const std::vector<cut_spec>& specs,
                                               std::span<const actual_slab> cut) {
    for (demand& wanted : demands) {
        const std::size_t spec = spec_of(wanted, specs);
        const std::int64_t got = portions_cut(cut, specs, spec);
        wanted.at_least = std::max<std::int64_t>(wanted.at_least - got, 0);
        if (wanted.at_most != demand::any_number) wanted.at_most = std::max<std::int64_t>(wanted.at_most - got, 0);
    }
    return demands;
}

/// What the rest has to go together with: slabs that are cut, as what they are fit for. The thickness is that of the first
/// slab that was to have one; a slab made another cut has set none.
template <class = when_called>
[[nodiscard]] slabs_in_front in_front_of_rest(const cutting_problem& problem, std::span<const actual_slab> cut) {
    const std::vector<cut_spec>& specs = problem.specs();
    slabs_in_front before{std::vector<bool>(specs.size()), std::vector<length>(specs.size()), !cut.empty()};
    for (std::size_t spec = 0; spec < specs.size(); ++spec) before.cut[spec] = portions_cut(cut, specs, spec) > 0;
    for (const actual_slab& s : cut)
        if (s.kind == slab_kind::portions && s.to_do != remedy::to_loose && s.to_do != remedy::another_spec &&
            !(before.thickness[s.option] > length{}))
            before.thickness[s.option] = s.aimed;
    return before;
}

/// Slabs of portions that are cut, those that are fit to be some: of weights as the profile has them, on a loin `ratio` times as
/// heavy. Portions that are too heavy count as trimmed down.
template <class = when_called>
[[nodiscard]] std::vector<portions_in_front> as_in_front(std::span<const actual_slab> cut,
                                                         const std::vector<cut_spec>& specs, double ratio) {
    std::vector<portions_in_front> in_front;
    for (const actual_slab& s : cut) {
        if (s.kind != slab_kind::portions || s.to_do == remedy::to_loose) continue;
        const std::size_t spec = s.to_do == remedy::another_spec ? s.other_spec : s.option;
        const double pieces = specs[s.option].pieces, now = specs[spec].pieces;
        const mass each = s.to_do == remedy::trim_down ? specs[spec].portion.max : s.portion * (pieces / now);
        in_front.push_back({.spec = spec,
                            .portions = specs[spec].pieces,
                            .weight = std::llround(micrograms_in_a_kilogram * each.value() / ratio),
                            .thickness = s.aimed});
    }
    return in_front;
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

} // namespace tranche::detail
