// What a plan says without being asked: meat left loose that one change would make a portion, and cuts that it does without.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/optimise/explain/binding_limit.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

/// Something about a plan with portions that its reader would want to know.
struct plan_hint {
    enum class kind {
        left_loose, ///< a loose slab is at least as heavy as the lightest portion, and one limit keeps a cut out of it
        left_out    ///< a spec could be cut, and the plan has no portion of it: the want likes others better
    };
    kind what = kind::left_loose;
    std::size_t spec = 0; ///< that might be cut: index into the specs
    mass loose{};         ///< `left_loose`: what the slab weighs
    length at{};          ///< and where it starts
    sentence says{};      ///< one sentence: this, and what would help

    /// The sentence in millimetres and grams. Throws nothing but for lack of memory.
    [[nodiscard]] std::string text() const { return says.text(); }

    friend bool operator==(const plan_hint&, const plan_hint&) = default;
};

namespace detail {

/// The part of a slab that lies in the zone of a spec; its end is in front of its start where none does.
[[nodiscard]] inline std::pair<length, length> in_zone(const cut_spec& cut, const slab& s) {
    return {std::max(cut.zone.min, s.start), std::min(cut.zone.max, s.end())};
}

/// What keeps a spec out of a stretch of a loin, in words that name one change; none if nothing does, or no single one helps.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::optional<sentence> kept_out_of(const cutting_problem& problem, std::size_t spec,
                                                               const slab& stretch) {
    const std::size_t option = problem.loose_count() + spec;
    const cut_spec& asked = problem.specs()[spec];
    cut_spec cut = asked;
    const auto [from, to] = in_zone(cut, stretch);
    cut.zone = {from, to};
    const auto may_be = [&](bool whatever_it_weighs = false) {
        return !problem.lane_if(option, cut, whatever_it_weighs).empty();
    };
    if (may_be(true)) { // what it weighs keeps it out, or rules on the whole loin
        const cutting_rules& rules = problem.rules();
        const bool ruled =
            rules.remnant != least_remnant{} || problem.places().any() || !problem.graph().loose_everywhere;
        if (may_be() && !ruled) return std::nullopt;
        cut_list cuts = problem.specs();
        cuts[spec] = cut;
        const auto limit = binding_limit_of(cutting_problem(problem, cuts, rules), spec);
        return limit ? std::optional(limit->says) : std::nullopt;
    }
    cut.gluteus_medius = any_gluteus_medius;
    if (may_be()) return sentence(cut.name) + ": allow more gluteus medius there";
    cut.gluteus_medius = asked.gluteus_medius;
    const length thick = snapped(to - from - (stretch.kind == slab_kind::end ? length{} : cut.kerf));
    if (!(length{} < thick && thick < cut.thickness.min)) return std::nullopt;
    cut.thickness.min = thick;
    if (!may_be()) return std::nullopt;
    return sentence(cut.name) + ": allow a cut " + rounded_down(thick) + " thick";
}

/// The hints of a plan with portions; none of one without. Of the loose slabs the heaviest is looked at, if it weighs no less than
/// the lightest portion: O(cells) then for each spec; O(cells × options) where its weights keep a spec out.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<plan_hint> hints_of(const cutting_problem& problem, const cutting_plan& plan,
                                                           const std::vector<binding_limit>& limits) {
    std::vector<plan_hint> hints;
    const slab* loose = nullptr;
    std::int64_t lightest = std::numeric_limits<std::int64_t>::max();
    std::vector<bool> settled(plan.specs.size()); // by portions or by a limit
    for (const slab& s : plan.slabs) {
        if (s.kind == slab_kind::portions) {
            lightest = std::min(lightest, s.weight().count / plan.spec_of(s).pieces);
            settled[s.option] = true;
        } else if (s.kind != slab_kind::facing && (loose == nullptr || loose->weight() < s.weight())) {
            loose = &s;
        }
    }
    if (lightest == std::numeric_limits<std::int64_t>::max()) return hints;
    for (const binding_limit& limit : limits) settled[limit.spec] = true;
    if (loose != nullptr && loose->weight().count >= lightest) {
        length most{}; // of the slab, in the zone of a spec: the more can be used the better, and the earlier of equals
        for (std::size_t spec = 0; spec < settled.size(); ++spec) {
            const length used =
                in_zone(problem.specs()[spec], *loose).second - in_zone(problem.specs()[spec], *loose).first;
            if (!(most < used)) continue;
            const auto change = kept_out_of(problem, spec, *loose);
            if (!change) continue;
            most = used;
            hints.assign(1, {.spec = spec,
                             .loose = to_mass(loose->weight()),
                             .at = loose->start,
                             .says = sentence(to_mass(loose->weight())) + " at " + loose->start +
                                     " from the rib face are left loose, no less than a portion; " + *change});
        }
    }
    for (std::size_t spec = 0; spec < settled.size(); ++spec)
        if (!settled[spec])
            hints.push_back({.what = plan_hint::kind::left_out,
                             .spec = spec,
                             .says = sentence(plan.specs[spec].name) + ": could be cut, but the best plan has none"});
    return hints;
}

} // namespace detail

} // namespace tranche
