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
        places     ///< every slab lies across a pinned cut, or ends where no cut may be
    };
    kind what = kind::room;
    std::size_t spec = 0;     ///< index into the specs
    mass nearest{};           ///< the portion within the thickness that misses the weights by least; `room`: none;
                              ///< `remnant`: what the largest remnant beside a portion weighs
    length at{}, thickness{}; ///< where it lies; for `room`: where the room ends, and how thick a slab it has
    sentence says{};          ///< one sentence: this, and the nearest change that would help

    [[nodiscard]] std::string text() const { return says.text(); }

    friend bool operator==(const binding_limit&, const binding_limit&) = default;
};

namespace detail {

/// The starts [first, past) that the windows of an option leave for a slab that ends at `to`, whatever it weighs.
struct starts_to {
    std::size_t first, past;
    std::size_t notch; ///< with notches only every `stride`-th is one, counted from here
    starts_to(const cutting_problem& problem, std::size_t option, std::size_t to) {
        const option_window& w = problem.window(option);
        const bool at_end = to == problem.cells();
        first = std::max({problem.start(), w.first_from, at_end ? w.first_to_end : to - std::min(to, w.most_cells)});
        notch = at_end ? w.last_to_end : to - std::min(to, w.least_cells);
        const std::size_t thinnest = at_end ? w.last_to_end + 1 : to + 1 - std::min(to + 1, w.least_cells);
        past = to < w.past_to ? std::min({thinnest, w.past_from, to}) : 0;
    }
    [[nodiscard]] bool any(std::size_t stride) const {
        for (std::size_t from = first; from < past; ++from)
            if ((notch - from) % stride == 0) return true;
        return false;
    }
};

/// Whether a slab of some spec, whatever it weighs, has room on the loin of a problem.
template <class = when_called>
[[nodiscard]] bool has_room(const cutting_problem& like, const cut_spec& spec) {
    const cutting_problem problem(like.meat(), {spec}, {.facing = like.rules().facing});
    const std::size_t option = problem.loose_count();
    for (std::size_t to = problem.start() + 1; to <= problem.cells(); ++to)
        if (starts_to(problem, option, to).any(problem.window(option).stride)) return true;
    return false;
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

/// From which positions a loin can be cut up to the sirloin face, with a remnant as large as it must be. What is asked most
/// takes no search: there is enough behind a slab for loose meat.
class ways_to_end {
public:
    explicit ways_to_end(const cutting_problem& problem) : problem_(problem) {
        for (std::size_t o = 0; o < problem.loose_count(); ++o)
            last_remnant_ = std::max(last_remnant_, problem.window(o).last_to_end);
    }
    /// For a position behind the start. O(1), but once O(slabs) behind the last remnant.
    [[nodiscard]] bool from(std::size_t at) {
        if (at <= last_remnant_ || at == problem_.cells()) return true;
        if (open_.empty()) search();
        return open_[at];
    }

private:
    /// From the sirloin face towards the rib: too little is left for loose meat, but there may be portions.
    void search() {
        const std::size_t end = problem_.cells();
        open_.resize(end + 1);
        open_[end] = true;
        std::size_t last_open = 0; // in front of the sirloin face
        for (std::size_t at = end; at-- > last_remnant_ + 1;) {
            for (std::size_t o = 0; o < problem_.option_count() && !open_[at]; ++o) {
                const option_window& w = problem_.window(o);
                if (problem_.allows(o, at, end)) open_[at] = true;
                if (!problem_.is_portion(o)) {
                    if (last_open >= at + w.least_cells) open_[at] = true;
                    continue;
                }
                for (std::size_t to = at + w.least_cells; to < end && to - at <= w.most_cells && !open_[at]; ++to)
                    if (open_[to] && problem_.allows(o, at, to)) open_[at] = true;
            }
            if (open_[at]) last_open = std::max(last_open, at);
        }
    }

    const cutting_problem& problem_;
    std::size_t last_remnant_ = 0;
    std::vector<bool> open_;
};

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
    const auto both = [&](const sentence& thick, const sentence& heavy) {
        return (thin ? thick : sentence()) + (thin && light ? " and " : "") + (light ? heavy : sentence());
    };
    limit.says = sentence(problem.spec_of(option).name) + ": beside a portion at most " +
                 both(rounded_down(limit.thickness), rounded_down(limit.nearest)) +
                 " would be left up to the sirloin face, less than the least remnant of " +
                 both(least.thickness, least.weight) + "; allow that";
}

/// The binding limit of a spec where cuts are pinned or ruled out: that, if a portion could be cut without; but then what is left
/// behind it is not looked at.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::optional<binding_limit> limit_between_places(const cutting_problem& problem,
                                                                             std::size_t spec);

} // namespace detail

/// The binding limit of a spec, or none if at least one portion of it can be cut somewhere. An order of cuts is not looked
/// at. O(positions); with notches or where the remnant is in the way O(slabs). `spec` is an index below the number of
/// specs, which is not checked. Throws nothing of its own.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::optional<binding_limit> binding_limit_of(const cutting_problem& problem,
                                                                         std::size_t spec) {
    const std::size_t o = problem.loose_count() + spec, end = problem.cells();
    const cut_spec& cut = problem.specs()[spec];
    const detail::option_window& w = problem.window(o);
    const std::size_t start = std::max(problem.start(), w.first_from);
    const profile& meat = problem.meat();
    if (problem.places().any()) return detail::limit_between_places(problem, spec);
    detail::ways_to_end ways(problem);
    std::size_t without_remnant = 0; // where the first slab ends that would do, were it not for the remnant
    const auto can_be_cut = [&](std::size_t to) {
        if (ways.from(to)) return true;
        if (without_remnant == 0) without_remnant = to;
        return false;
    };

    struct slab_found {
        std::int64_t weight;
        std::size_t from = 0, to = 0;
    };
    constexpr std::int64_t none_above = std::numeric_limits<std::int64_t>::max(), none_below = -1;
    slab_found above{none_above}, below{none_below}; // of the slabs that are too heavy or too light, the nearest
    std::size_t fits = start;                        // the first start from which a slab is not too heavy
    for (std::size_t to = start + 1; to <= end && to < w.past_to; ++to) {
        const auto [first, past, notch] = detail::starts_to(problem, o, to);
        if (first >= past) continue;
        if (w.stride > 1) { // notches: not every start in between is one
            for (std::size_t from = first; from < past; ++from) {
                if ((notch - from) % w.stride != 0) continue;
                const std::int64_t weight = problem.weight(o, from, to);
                if (w.least_weight <= weight && weight <= w.most_weight && can_be_cut(to)) return std::nullopt;
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
            if (weight >= w.least_weight && can_be_cut(to)) return std::nullopt;
            if (weight < w.least_weight && weight > below.weight) below = {weight, fits, to};
        }
    }

    binding_limit limit{.spec = spec};
    if (without_remnant > 0) {
        detail::say_remnant(problem, o, without_remnant, limit);
        return limit;
    }
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
    limit.thickness = detail::snapped(meat.position(nearest.to) - limit.at - (nearest.to == end ? length{} : cut.kerf));

    const std::string each = cut.pieces == 1 ? "" : " in " + std::to_string(cut.pieces) + " pieces";
    const sentence lies = sentence(limit.thickness) + " thick at " + limit.at + " from the rib face, gives " +
                          (heavy ? detail::rounded_up(limit.nearest) : detail::rounded_down(limit.nearest)) + each +
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
    case binding_limit::kind::places: break;
    }
    return limit;
}

namespace detail {

template <class>
TRANCHE_COLD std::optional<binding_limit> limit_between_places(const cutting_problem& problem, std::size_t spec) {
    const std::size_t o = problem.loose_count() + spec;
    if (!problem.graph().lanes[o].empty()) return std::nullopt;
    cutting_rules anywhere = problem.rules();
    anywhere.cut_at.clear();
    anywhere.kept_whole.clear();
    const cutting_problem without(problem.meat(), problem.specs(), std::move(anywhere));
    if (auto limit = binding_limit_of(without, spec)) return limit;
    const bool pinned = !problem.rules().cut_at.empty(), whole = !problem.rules().kept_whole.empty();
    binding_limit limit{.what = binding_limit::kind::places, .spec = spec};
    limit.says = sentence(problem.spec_of(o).name) + ": every slab that its limits allow " +
                 (pinned ? "lies across a cut that has to be there" : "") + (pinned && whole ? " or " : "") +
                 (whole ? "ends in a stretch that is kept whole" : "") + "; move or leave out one of these";
    return limit;
}

} // namespace detail

} // namespace tranche
