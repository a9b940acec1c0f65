// Why a cut yields no portion: which of its limits stands in the way, and the nearest value that would let one through.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
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
        room,      ///< no stretch of the thickness lies where the gluteus medius rule allows it, or none on this grid
        too_heavy, ///< the lightest portion of the thickness is heavier than allowed
        too_light, ///< the heaviest portion of the thickness is lighter than asked
        grid       ///< lighter and heavier ones exist, but none in between on this grid
    };
    kind what = kind::room;
    std::size_t spec = 0;     ///< index into the specs
    mass nearest{};           ///< the portion within the thickness that misses the weights by least; `room`: none
    length at{}, thickness{}; ///< where it lies; for `room`: where the room ends, and how thick a slab it has
    std::string text{};       ///< one sentence that says this and the nearest change that would help
};

namespace detail {

/// A value that someone is to allow, rounded to the digits shown so that allowing what is shown is enough.
[[nodiscard]] inline std::string shown_at_least(mass m) {
    constexpr std::int64_t tenth = 100'000; // of a gram, in micrograms
    return shown(to_mass({(to_micrograms(m).count + tenth - 1) / tenth * tenth}));
}
[[nodiscard]] inline std::string shown_at_most(mass m) {
    constexpr std::int64_t tenth = 100'000;
    return shown(to_mass({to_micrograms(m).count / tenth * tenth}));
}
[[nodiscard]] inline std::string shown_at_most(length l) {
    return shown(0.01 * std::floor(l / (0.01 * millimetre) + 1e-6) * millimetre);
}

/// How thick a slab has room on the loin, whatever it weighs.
inline void say_room(const cutting_problem& problem, std::size_t option, binding_limit& limit) {
    const profile& meat = problem.meat();
    const option_window& w = problem.window(option);
    const std::size_t start = problem.start(), to = std::max(w.past_to, std::size_t{1}) - 1;
    const cut_spec& cut = problem.spec_of(option);
    if (cut.zone != range<length>{}) {
        const length first = meat.position(std::min(std::max(start, w.first_from), problem.cells()));
        limit.at = std::min(cut.zone.max, meat.extent());
        limit.text = cut.name + ": there is no stretch " + shown(cut.thickness.min) +
                     " thick where it is allowed, from " + shown(first) + " to " + shown(limit.at) +
                     " from the rib face; allow a wider zone, a thinner cut or " + "more gluteus medius";
        return;
    }
    const std::string on_grid = " on a grid of " + shown(meat.step());
    if (start == problem.cells()) {
        limit.at = meat.extent();
        limit.text =
            cut.name + ": the facing takes the whole loin" + on_grid + "; allow a thinner facing or use a finer grid";
        return;
    }
    if (start < w.past_from && to > start)
        limit.thickness =
            meat.position(to) - meat.position(start) - (to == problem.cells() ? length{} : problem.kerf(option));
    const bool second_muscle = to < problem.cells() || !(limit.thickness > length{});
    const bool coarse = limit.thickness > cut.thickness.max; // there is room, but no position for the cut
    limit.at = second_muscle ? meat.position(std::min(to, std::max(w.past_from, std::size_t{1}) - 1)) : meat.extent();
    limit.text =
        cut.name + ": there is no stretch " + shown(cut.thickness.min) +
        (coarse ? " to " + shown(cut.thickness.max) : "") + " thick" + (coarse ? on_grid : "") +
        " between the facing at " + shown(meat.position(start)) +
        (second_muscle ? " and where the gluteus medius is no longer tolerated, " : " and the sirloin face at ") +
        shown(limit.at) + "; allow " +
        (limit.thickness > length{} ? "a cut " + shown_at_most(limit.thickness) + " thick"
                                    : std::string("more gluteus medius")) +
        (coarse ? " or use a finer grid" : "");
}

} // namespace detail

/// The binding limit of a spec, or none if at least one portion of it can be cut somewhere. O(positions).
[[nodiscard]] inline std::optional<binding_limit> binding_limit_of(const cutting_problem& problem, std::size_t spec) {
    const std::size_t o = problem.loose_count() + spec, end = problem.cells();
    const cut_spec& cut = problem.specs()[spec];
    const option_window& w = problem.window(o);
    const std::size_t start = std::max(problem.start(), w.first_from);
    const profile& meat = problem.meat();

    struct slab_found {
        std::int64_t weight;
        std::size_t from = 0, to = 0;
    };
    constexpr std::int64_t none_above = std::numeric_limits<std::int64_t>::max(), none_below = -1;
    slab_found above{none_above}, below{none_below}; // of the slabs that are too heavy or too light, the nearest
    std::size_t fits = start;                        // the first start from which a slab is not too heavy
    for (std::size_t to = start + 1; to <= end && to < w.past_to; ++to) {
        const bool at_end = to == end;
        const std::size_t first = std::max(start, at_end ? w.first_to_end : to - std::min(to, w.most_cells));
        const std::size_t thinnest = at_end ? w.last_to_end + 1 : to + 1 - std::min(to + 1, w.least_cells);
        const std::size_t past = std::min(thinnest, w.past_from);
        if (first >= past) continue;
        if (w.stride > 1) { // notches: not every start in between is one
            const std::size_t notch = at_end ? w.last_to_end : to - std::min(to, w.least_cells);
            for (std::size_t from = first; from < past; ++from) {
                if ((notch - from) % w.stride != 0) continue;
                const std::int64_t weight = problem.weight(o, from, to);
                if (w.least_weight <= weight && weight <= w.most_weight) return std::nullopt;
                if (weight > w.most_weight && weight < above.weight) above = {weight, from, to};
                if (weight < w.least_weight && weight > below.weight) below = {weight, from, to};
            }
            continue;
        }
        fits = std::max(fits, first);
        while (fits < past && problem.weight(o, fits, to) > w.most_weight) ++fits;
        if (fits > first) {
            const std::int64_t weight = problem.weight(o, fits - 1, to);
            if (weight < above.weight) above = {weight, fits - 1, to};
        }
        if (fits < past) {
            const std::int64_t weight = problem.weight(o, fits, to);
            if (weight >= w.least_weight) return std::nullopt;
            if (weight > below.weight) below = {weight, fits, to};
        }
    }

    binding_limit limit{.spec = spec};
    if (above.weight == none_above && below.weight == none_below) {
        detail::say_room(problem, o, limit);
        return limit;
    }
    const bool heavy = below.weight == none_below ||
                       (above.weight != none_above && above.weight - w.most_weight < w.least_weight - below.weight);
    const slab_found& nearest = heavy ? above : below;
    limit.what = above.weight != none_above && below.weight != none_below ? binding_limit::kind::grid
                 : heavy                                                  ? binding_limit::kind::too_heavy
                                                                          : binding_limit::kind::too_light;
    // Rounded so that a limit of that weight lets the whole slab through.
    limit.nearest = to_mass({(nearest.weight + (heavy ? cut.pieces - 1 : 0)) / cut.pieces});
    limit.at = meat.position(nearest.from);
    limit.thickness = meat.position(nearest.to) - limit.at - (nearest.to == end ? length{} : cut.kerf);

    const std::string each = cut.pieces == 1 ? "" : " in " + std::to_string(cut.pieces) + " pieces";
    const std::string lies = shown(limit.thickness) + " thick at " + shown(limit.at) + " from the rib face, gives " +
                             (heavy ? detail::shown_at_least(limit.nearest) : detail::shown_at_most(limit.nearest)) +
                             each +
                             (heavy ? ", above the " + shown(cut.portion.max) + " allowed; allow that weight"
                                    : ", below the " + shown(cut.portion.min) + " asked; allow that weight");
    switch (limit.what) {
    case binding_limit::kind::too_heavy:
        limit.text = cut.name + ": the lightest slab, " + lies + ", cut thinner, or cut the slab into " +
                     std::to_string(cut.pieces + 1) + " pieces";
        break;
    case binding_limit::kind::too_light:
        limit.text = cut.name + ": the heaviest slab, " + lies + " or cut thicker";
        break;
    case binding_limit::kind::grid:
        limit.text = cut.name + ": no slab on a grid of " + shown(meat.step()) +
                     " falls within the weights; the nearest, " + lies + " or use a finer grid";
        break;
    case binding_limit::kind::room: break;
    }
    return limit;
}

} // namespace tranche
