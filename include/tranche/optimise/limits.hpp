// Why a cut yields no portion: which of its limits stands in the way, and the nearest value that would let one through.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>

#include <tranche/optimise/cutting_problem.hpp>

namespace tranche {

/// The limit that keeps one spec from yielding a single portion.
struct binding_limit {
    enum class kind {
        room,      ///< no stretch of the thickness lies where the gluteus medius rule allows it
        too_heavy, ///< the lightest portion of the thickness is heavier than allowed
        too_light, ///< the heaviest portion of the thickness is lighter than asked
        grid       ///< lighter and heavier ones exist, but none in between on this grid
    };
    kind what = kind::room;
    std::size_t spec = 0;     ///< index into the specs
    mass nearest{};           ///< the lightest (too_heavy) or heaviest (too_light) portion within the thickness
    length at{}, thickness{}; ///< where it lies; for `room`: where the room ends, and the least thickness asked
    std::string text{};       ///< one sentence that says this and the nearest change that would help
};

/// The binding limit of a spec, or none if at least one portion of it can be cut somewhere. O(positions).
[[nodiscard]] inline std::optional<binding_limit> binding_limit_of(const cutting_problem& problem, std::size_t spec) {
    const std::size_t o = problem.loose_count() + spec;
    const cut_spec& cut = problem.specs()[spec];
    const option_window& w = problem.window(o);
    const profile& meat = problem.meat();

    struct slab_found {
        std::int64_t weight;
        std::size_t from = 0, to = 0;
    };
    slab_found lightest{std::numeric_limits<std::int64_t>::max()}, heaviest{-1};
    for (std::size_t to = problem.start() + 1; to <= std::min(problem.cells(), w.last_to); ++to) {
        const bool at_end = to == problem.cells();
        const std::size_t first = std::max(problem.start(), at_end ? w.first_to_end : to - std::min(to, w.most_cells));
        const std::size_t past =
            std::min(at_end ? w.last_to_end + 1 : to + 1 - std::min(to + 1, w.least_cells), w.last_from + 1);
        if (first >= past) continue;
        const std::int64_t thin = problem.weight(o, past - 1, to), thick = problem.weight(o, first, to);
        if (thin < lightest.weight) lightest = {thin, past - 1, to};
        if (thick > heaviest.weight) heaviest = {thick, first, to};
        for (std::size_t from = first; from < past; ++from)
            if (problem.allows(o, from, to)) return std::nullopt;
    }

    binding_limit limit{.spec = spec};
    if (heaviest.weight < 0) {
        limit.at = meat.position(std::min(w.last_to, w.last_from));
        limit.thickness = cut.thickness.min;
        const bool second_muscle = w.last_from < problem.cells();
        limit.text = cut.name + ": there is no stretch " + shown(cut.thickness.min) + " thick between the facing at " +
                     shown(meat.position(problem.start())) +
                     (second_muscle ? " and where the gluteus medius is no longer tolerated, " + shown(limit.at)
                                    : " and the sirloin face at " + shown(meat.extent())) +
                     "; allow a thinner cut" + (second_muscle ? " or more gluteus medius" : "");
        return limit;
    }
    const auto portion_of = [&](const slab_found& s) {
        return to_mass({s.weight / cut.pieces + (s.weight % cut.pieces != 0 ? 1 : 0)});
    };
    const auto place_it = [&](const slab_found& s) {
        limit.nearest = portion_of(s);
        limit.at = meat.position(s.from);
        limit.thickness = meat.position(s.to) - limit.at - (s.to == problem.cells() ? length{} : cut.kerf);
    };
    const std::string each = cut.pieces == 1 ? "" : " in " + std::to_string(cut.pieces) + " pieces";
    if (lightest.weight > w.most_weight) {
        limit.what = binding_limit::kind::too_heavy;
        place_it(lightest);
        limit.text = cut.name + ": the lightest slab, " + shown(limit.thickness) + " thick at " + shown(limit.at) +
                     " from the rib face, gives " + shown(limit.nearest) + each + ", above the " +
                     shown(cut.portion.max) + " allowed; allow that weight, cut thinner, or cut the slab into " +
                     std::to_string(cut.pieces + 1) + " pieces";
    } else if (heaviest.weight < w.least_weight) {
        limit.what = binding_limit::kind::too_light;
        place_it(heaviest);
        limit.text = cut.name + ": the heaviest slab, " + shown(limit.thickness) + " thick at " + shown(limit.at) +
                     " from the rib face, gives " + shown(limit.nearest) + each + ", below the " +
                     shown(cut.portion.min) + " asked; allow that weight or cut thicker";
    } else {
        limit.what = binding_limit::kind::grid;
        place_it(lightest);
        limit.text = cut.name + ": no slab on a grid of " + shown(meat.step()) +
                     " falls between the lightest and the heaviest weight; widen the limits or use a finer grid";
    }
    return limit;
}

} // namespace tranche
