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
#include <vector>

#include <tranche/optimise/engine/detail/slab_graph.hpp>
#include <tranche/optimise/explain/detail/ways_through.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

/// The limit that keeps one spec from yielding a single portion.
struct binding_limit {
    enum class kind {
        room, ///< no stretch of the thickness lies where zone and gluteus medius rule allow it, or none on this grid
        too_heavy, ///< the lightest portion of the thickness is heavier than allowed
        too_light, ///< the heaviest portion of the thickness is lighter than asked
        grid,      ///< lighter and heavier ones exist, but none in between on this grid
        remnant,   ///< portions can be cut, but what each leaves behind it is less than the least remnant
        loose,     ///< portions can be cut, but what each leaves must be loose meat where none may lie
        places     ///< what can be cut lies across a pinned cut, or ends where no cut may be
    };
    kind what = kind::room;
    std::size_t spec = 0;     ///< index into the specs
    mass nearest{};           ///< the portion within the thickness that misses the weights by least; `room`: none;
                              ///< `remnant`: what the largest remnant beside a portion weighs
    length at{}, thickness{}; ///< where it lies; for `room`: where the room ends, and how thick a slab it has
    sentence says{};          ///< one sentence: this, and the nearest change that would help

    /// The sentence in millimetres and grams. Throws nothing but for lack of memory.
    [[nodiscard]] std::string text() const { return says.text(); }

    friend bool operator==(const binding_limit&, const binding_limit&) = default;
};

namespace detail {

/// Whether a slab of some spec, whatever it weighs, has room on the loin of a problem.
template <class = when_called>
[[nodiscard]] bool has_room(const cutting_problem& like, const cut_spec& spec) {
    const cutting_problem problem(like, {spec}, {.facing = like.rules().facing});
    return !problem.lane_of_any_weight(problem.loose_count()).empty();
}

/// Which of a cut's zone and its gluteus medius rule is in the way, when a slab has no room.
template <class = when_called>
TRANCHE_COLD void say_room_in_zone(const cutting_problem& problem, std::size_t option, binding_limit& limit) {
    const profile& meat = problem.meat();
    const option_window& w = problem.window(option);
    const cut_spec& cut = problem.spec_of(option);
    cut_spec anywhere = cut, any_muscle = cut, neither = cut;
    anywhere.zone = neither.zone = {};
    any_muscle.gluteus_medius = neither.gluteus_medius = any_gluteus_medius;
    const bool zone_helps = has_room(problem, anywhere), muscle_helps = has_room(problem, any_muscle);

    const std::size_t first = std::min(std::max(problem.start(), w.first_from), problem.cells());
    const std::size_t to = std::max(w.past_to, std::size_t{1}) - 1;
    if (first < w.past_from && first < to)
        limit.thickness = snapped(meat.position(to) - meat.position(first) -
                                  (to == problem.cells() ? length{} : problem.kerf(option)));
    limit.thickness = std::max(limit.thickness, length{});
    const length zone_end = std::min(cut.zone.max, meat.extent());
    const auto entered = meat.gluteus_medius_entered();
    const auto clean = std::upper_bound(entered.begin(), entered.end(), cut.gluteus_medius.towards_sirloin);
    const auto tolerated = static_cast<std::size_t>(std::max(clean - entered.begin(), std::ptrdiff_t{1})) - 1;
    const length muscle = meat.position(std::min(tolerated, problem.cells()));
    limit.at = zone_helps ? zone_end : std::min(zone_end, muscle);

    const sentence zone =
        sentence("in its zone, from ") + meat.position(first) + " to " + zone_end + " from the rib face";
    const sentence front = sentence("in front of where the gluteus medius is no longer tolerated, ") + muscle;
    const sentence thinner = limit.thickness > length{} && limit.thickness < cut.thickness.min
                                 ? sentence(", or a cut ") + rounded_down(limit.thickness) + " thick"
                                 : sentence();
    limit.says = sentence(cut.name) + ": there is no stretch " + cut.thickness.min + " thick ";
    if (zone_helps && muscle_helps)
        limit.says += zone + ", that lies " + front + "; allow a wider zone or more gluteus medius" + thinner;
    else if (zone_helps)
        limit.says += zone + "; allow a wider zone" + thinner;
    else if (muscle_helps)
        limit.says +=
            sentence("behind ") + meat.position(first) + " and " + front + "; allow more gluteus medius" + thinner;
    else if (has_room(problem, neither))
        limit.says += zone + ", nor " + front + "; allow a wider zone and more gluteus medius" + thinner;
    else
        limit.says += sentence("on a grid of ") + meat.step() + " behind the facing at " +
                      meat.position(problem.start()) + "; allow a thinner cut or use a finer grid";
}

/// How thick a slab has room on the loin, whatever it weighs.
template <class = when_called>
TRANCHE_COLD void say_room(const cutting_problem& problem, std::size_t option, binding_limit& limit) {
    const profile& meat = problem.meat();
    const option_window& w = problem.window(option);
    const std::size_t start = problem.start(), to = std::max(w.past_to, std::size_t{1}) - 1;
    const cut_spec& cut = problem.spec_of(option);
    const sentence on_grid = sentence(" on a grid of ") + meat.step();
    if (start == problem.cells()) {
        limit.at = meat.extent();
        limit.says = sentence(cut.name) + ": the facing takes the whole loin" + on_grid +
                     "; allow a thinner facing or use a finer grid";
        return;
    }
    if (cut.zone != quantity_range<length>{}) return say_room_in_zone(problem, option, limit);
    if (start < w.past_from && to > start)
        limit.thickness = snapped(meat.position(to) - meat.position(start) -
                                  (to == problem.cells() ? length{} : problem.kerf(option)));
    const bool second_muscle = to < problem.cells() || !(limit.thickness > length{});
    const bool coarse = limit.thickness > cut.thickness.max; // there is room, but no position for the cut
    limit.at = second_muscle ? meat.position(std::min(to, std::max(w.past_from, std::size_t{1}) - 1)) : meat.extent();
    limit.says =
        sentence(cut.name) + ": there is no stretch " + cut.thickness.min +
        (coarse ? sentence(" to ") + cut.thickness.max : sentence()) + " thick" + (coarse ? on_grid : sentence()) +
        " between the facing at " + meat.position(start) +
        (second_muscle ? " and where the gluteus medius is no longer tolerated, " : " and the sirloin face at ") +
        limit.at + "; allow " +
        (limit.thickness > length{} ? sentence("a cut ") + rounded_down(limit.thickness) + " thick"
                                    : sentence("more gluteus medius")) +
        (coarse ? " or use a finer grid" : "");
}

/// What a slab of portions that ends at `to`, the first that can, leaves on the loin: less than the least remnant.
template <class = when_called>
void say_remnant(const cutting_problem& problem, std::size_t option, std::size_t to, binding_limit& limit) {
    const profile& meat = problem.meat();
    const least_remnant& least = problem.rules().remnant;
    limit.what = binding_limit::kind::remnant;
    limit.at = meat.position(to);
    limit.thickness = snapped(meat.extent() - limit.at);
    for (std::size_t o = 0; o < problem.loose_count(); ++o)
        limit.nearest = std::max(limit.nearest, to_mass({problem.front(o).back() - problem.front(o)[to]}));
    const bool thin = limit.thickness < least.thickness, light = limit.nearest < least.weight;
    if (to == problem.cells() || (!thin && !light)) {
        limit.says = sentence(problem.spec_of(option).name) +
                     ": there is no portion that leaves loose meat up to the sirloin face, where a remnant is "
                     "required; ask for none";
        return;
    }
    const auto both = [&](const sentence& thick, const sentence& heavy) {
        return (thin ? thick : sentence()) + (thin && light ? " and " : "") + (light ? heavy : sentence());
    };
    limit.says = sentence(problem.spec_of(option).name) + ": beside a portion at most " +
                 both(rounded_down(limit.thickness), rounded_down(limit.nearest)) +
                 " would be left up to the sirloin face, less than the least remnant of " +
                 both(least.thickness, least.weight) + "; allow that";
}

/// What the rules on loose meat do not allow, in words.
template <class = when_called>
TRANCHE_COLD void say_loose(const cutting_problem& problem, std::size_t option, binding_limit& limit) {
    limit.what = binding_limit::kind::loose;
    sentence kept_out, helps;
    for (const loose_cut& loose : problem.rules().loose) {
        const std::string name = std::string(name_of(loose.goes_to));
        const auto add = [&](const sentence& where, const std::string& change) {
            kept_out += sentence(kept_out.text().empty() ? "" : ", ") + "loose meat for " + name + " may lie " + where;
            helps += sentence(helps.text().empty() ? "" : " or ") + change;
        };
        if (loose.place == loose_place::nowhere) {
            add("nowhere", "allow it");
            continue;
        }
        if (loose.place == loose_place::ends) add("at the ends only", "allow it between portions");
        if (loose.zone != quantity_range<length>{})
            add(sentence("from ") + loose.zone.min + " to " + std::min(loose.zone.max, problem.meat().extent()) +
                    " only",
                "allow a wider zone");
    }
    limit.says = sentence(problem.spec_of(option).name) + ": no portions fill what must not be loose beside it; " +
                 kept_out + "; " + helps;
}
template <class = when_called>
TRANCHE_COLD void say_places(const cutting_problem& problem, std::size_t option, binding_limit& limit) {
    const bool pinned = !problem.rules().cut_at.empty(), whole = !problem.rules().kept_whole.empty();
    limit.what = binding_limit::kind::places;
    limit.says = sentence(problem.spec_of(option).name) + ": every slab that its limits allow " +
                 (pinned ? "lies across a cut that has to be there" : "") + (pinned && whole ? " or " : "") +
                 (whole ? "ends in a stretch that is kept whole" : "") + "; move or leave out one of these";
}

/// Of a spec that has slabs, but none on a way through the loin: which of the rules on the whole loin is in the way, so that
/// without it there would be one; of several together the first.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD binding_limit limit_of_rules(const cutting_problem& problem, std::size_t spec) {
    const std::size_t o = problem.loose_count() + spec;
    binding_limit limit{.spec = spec};
    const auto first_end_without = [&](bool loose, bool remnant, bool places) {
        cutting_problem without = problem;
        without.leave_out(loose, remnant, places);
        const ways_through<> ways(without.graph());
        const slab_lane& lane = without.graph().lanes[o];
        std::size_t to = lane.first_end();
        while (to <= problem.cells() && !(ways.leads_on(to) && ways.comes_from_start(lane, to))) ++to;
        return to <= problem.cells() ? std::optional(to) : std::nullopt;
    };
    if (first_end_without(true, false, false))
        say_loose(problem, o, limit);
    else if (const auto to = first_end_without(false, true, false))
        say_remnant(problem, o, *to, limit);
    else if (problem.places().any() && first_end_without(true, true, false))
        say_loose(problem, o, limit);
    else if (problem.places().any())
        say_places(problem, o, limit);
    else
        say_loose(problem, o, limit);
    return limit;
}

/// Of a spec that has no slab at all, what each single one misses.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD binding_limit limit_of_slabs(const cutting_problem& problem, std::size_t spec) {
    const std::size_t o = problem.loose_count() + spec, end = problem.cells();
    const cut_spec& cut = problem.specs()[spec];
    const option_window& w = problem.window(o);
    const profile& meat = problem.meat();
    const slab_lane lane = problem.lane_of_any_weight(o);
    struct slab_found {
        std::int64_t weight;
        std::size_t from = 0, to = 0;
    };
    constexpr std::int64_t none_above = std::numeric_limits<std::int64_t>::max(), none_below = -1;
    slab_found above{none_above}, below{none_below}; // of the slabs that are too heavy or too light, the nearest
    const auto look_at = [&](std::size_t from, std::size_t to) {
        const std::int64_t weight = problem.weight(o, from, to);
        if (weight > w.most_weight && weight < above.weight) above = {weight, from, to};
        if (weight < w.least_weight && weight > below.weight) below = {weight, from, to};
    };
    for (std::size_t to = lane.first_end(), light = 0; to <= end; ++to) {
        const slab_starts s = lane.to(to);
        if (s.empty()) continue;
        if (lane.stride() > 1) {
            for (std::size_t from = s.first; from < s.past; from += lane.stride()) look_at(from, to);
            continue;
        }
        if (to == end) light = 0;
        light = std::max(light, std::size_t{s.first});
        while (light < s.past && problem.weight(o, light, to) > w.most_weight) ++light;
        if (light > s.first) look_at(light - 1, to);
        if (light < s.past) look_at(light, to);
    }

    binding_limit limit{.spec = spec};
    if (above.weight == none_above && below.weight == none_below) {
        say_room(problem, o, limit);
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
    limit.thickness = snapped(meat.position(nearest.to) - limit.at - (nearest.to == end ? length{} : cut.kerf));

    const std::string each = cut.pieces == 1 ? "" : " in " + std::to_string(cut.pieces) + " pieces";
    const sentence lies = sentence(limit.thickness) + " thick at " + limit.at + " from the rib face, gives " +
                          (heavy ? rounded_up(limit.nearest) : rounded_down(limit.nearest)) + each +
                          (heavy ? sentence(", above the ") + cut.portion.max + " allowed; allow that weight"
                                 : sentence(", below the ") + cut.portion.min + " asked; allow that weight");
    switch (limit.what) {
    case binding_limit::kind::too_heavy:
        limit.says = sentence(cut.name) + ": the lightest slab, " + lies + ", cut thinner, or cut the slab into " +
                     std::to_string(cut.pieces + 1) + " pieces";
        break;
    case binding_limit::kind::too_light:
        limit.says = sentence(cut.name) + ": the heaviest slab, " + lies + " or cut thicker";
        break;
    case binding_limit::kind::grid:
        limit.says = sentence(cut.name) + ": no slab on a grid of " + meat.step() +
                     " falls within the weights; the nearest, " + lies + " or use a finer grid";
        break;
    case binding_limit::kind::room:
    case binding_limit::kind::remnant:
    case binding_limit::kind::loose:
    case binding_limit::kind::places: break;
    }
    return limit;
}

} // namespace detail

/// The binding limit of a spec, or none if at least one portion of it can be cut somewhere and the rest of the loin beside it
/// too, by slabs of any option. What links slabs, an order of cuts or a common thickness, is not looked at. O(positions ×
/// options); with notches O(slabs). `spec` is an index below the number of specs, which is not checked. Throws nothing of its own.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::optional<binding_limit> binding_limit_of(const cutting_problem& problem,
                                                                         std::size_t spec) {
    const std::size_t o = problem.loose_count() + spec;
    const detail::slab_lane& lane = problem.graph().lanes[o];
    if (detail::passes_beside_loose(problem.graph(), lane) || detail::ways_through<>(problem.graph()).pass(lane))
        return std::nullopt;
    cutting_problem bare = problem;
    bare.leave_out(true, true, true);
    if (bare.graph().lanes[o].empty()) return detail::limit_of_slabs(bare, spec);
    return detail::limit_of_rules(problem, spec);
}

} // namespace tranche
