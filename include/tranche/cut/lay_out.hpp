// From positions on a profile to a plan with weights: for optimisers, and for people who know where they want to cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A slab on the grid: positions [from, to) of a profile and what is made of them. `kind` is portions or loose; a loose one
/// that reaches the sirloin face becomes the end, and the facing is put in front by `lay_out`.
struct grid_slab {
    std::size_t from = 0, to = 0;
    slab_kind kind = slab_kind::loose;
    std::size_t option = 0; ///< index into the specs or into the rules' loose cuts

    friend bool operator==(const grid_slab&, const grid_slab&) = default;
};

/// How many portions the slabs of these stretches give. A slab of a spec gives its `pieces`. Indices of the stretches
/// must be those of specs; nothing is checked. Throws nothing. O(stretches). A plain count, zero or more.
[[nodiscard]] inline std::size_t portion_count(const std::vector<cut_spec>& specs,
                                               const std::vector<grid_slab>& stretches) {
    std::size_t count = 0;
    for (const grid_slab& s : stretches)
        if (s.kind == slab_kind::portions) count += static_cast<std::size_t>(specs[s.option].pieces);
    return count;
}

namespace detail {

/// The first position at or behind the facing cut.
[[nodiscard]] inline std::size_t position_behind_facing(const profile& meat, const cutting_rules& rules) {
    std::size_t i = meat.nearest(rules.facing);
    if (snapped(meat.position(i)) < snapped(rules.facing)) ++i;
    return std::min(i, meat.cells());
}

} // namespace detail

namespace detail {

/// Fills in where a slab lies and what is left of it.
inline void weigh(slab& s, const yield_table& trimmed, std::size_t from, std::size_t to, length kerf) {
    const profile& meat = trimmed.meat();
    s.start = meat.position(from);
    s.kerf = to == meat.cells() ? length{} : kerf; // there is nothing to cut behind the sirloin face
    s.thickness = meat.position(to) - s.start - s.kerf;
    const profile_place back =
        s.kerf > length{} ? profile_place::of(meat, s.start + s.thickness) : profile_place{to - 1, 1.0};
    for (const tissue t : all_tissues) {
        const std::int64_t kept = trimmed.kept_between(t, from, back);
        const std::int64_t all = back.in(meat.cumulative(t)) - meat.cumulative(t)[from];
        s.kept[t] = {kept};
        s.trim[t] = {all - kept};
        s.cutting_loss += micrograms{meat.cumulative(t)[to] - back.in(meat.cumulative(t))};
    }
    s.gluteus_medius_towards_rib = meat.gluteus_medius_share(from);
    s.gluteus_medius_towards_sirloin = meat.gluteus_medius_share(to);
}

/// `lay_out` of specs and rules that are valid and on the grain. Tables that are `known` are not made again.
template <class = when_called>
[[nodiscard]] cutting_plan laid_out(const profile& meat, const std::vector<cut_spec>& specs, const cutting_rules& rules,
                                    const std::vector<grid_slab>& stretches, const yield_tables* known = nullptr) {
    cutting_plan result{.slabs = {}, .specs = specs, .rules = rules, .extent = meat.extent(), .total = meat.total()};
    yield_tables own(meat, 1 + specs.size() + rules.loose.size());
    const auto table_of = [&](const slab& s) -> const yield_table& {
        const trim_spec trim = result.trim_of(s);
        const yield_table* const there = known ? known->of(trim) : nullptr;
        return there ? *there : *own.of(trim);
    };
    std::size_t at = position_behind_facing(meat, rules);
    if (at > 0) {
        slab facing{.kind = slab_kind::facing};
        weigh(facing, table_of(facing), 0, at, length{});
        result.slabs.push_back(facing);
    }
    for (const grid_slab& s : stretches) {
        const bool portions = s.kind == slab_kind::portions;
        if (s.from != at || s.to <= s.from || s.to > meat.cells())
            throw invalid_input("stretch", std::to_string(s.from) + " to " + std::to_string(s.to),
                                "one that starts at position " + std::to_string(at) + " and ends on the loin");
        if (s.option >= (portions ? specs.size() : rules.loose.size()))
            throw invalid_input("stretch.option", std::to_string(s.option), "the index of a spec or loose cut");
        const length kerf = portions ? specs[s.option].kerf : length{};
        slab cut{.kind = portions               ? slab_kind::portions
                         : s.to == meat.cells() ? slab_kind::end
                                                : slab_kind::loose,
                 .option = s.option};
        weigh(cut, table_of(cut), s.from, s.to, kerf);
        if (!(snapped(cut.thickness) > length{}))
            throw invalid_input("stretch", shown(meat.position(s.to) - meat.position(s.from)),
                                "more than the kerf, " + shown(kerf));
        result.slabs.push_back(cut);
        at = s.to;
    }
    if (at != meat.cells())
        throw invalid_input("stretches", "an end at position " + std::to_string(at),
                            "an end at the sirloin face, position " + std::to_string(meat.cells()));
    return result;
}

} // namespace detail

/// The plan that the stretches make, behind the facing of `rules`. The stretches must tile the loin from there to the
/// sirloin face, in order. Throws `invalid_input` for bad specs or rules, a gap, an overlap, an option that does not exist, or a slab no
/// thicker than its kerf. Limits of the specs are not looked at: `verify` does that.
/// O(cells). Positions are whole steps of the profile, 0 at the rib face, and masses whole micrograms. Specs and rules
/// are as `validate` wants them, and in the plan with their lengths on the grain of 1/16 um and shares on that of a billionth.
template <class = detail::when_called>
[[nodiscard]] cutting_plan lay_out(const profile& meat, const std::vector<cut_spec>& written_specs,
                                   const cutting_rules& written_rules, const std::vector<grid_slab>& stretches) {
    const cut_list specs = detail::snapped(cut_list(written_specs));
    const cutting_rules rules = detail::snapped(written_rules);
    validate(specs);
    validate(rules, meat.extent());
    validate(rules.order, specs);
    return detail::laid_out(meat, specs, rules, stretches);
}

} // namespace tranche
