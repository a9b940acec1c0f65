// The nearest value of a limit with which a request does what is asked of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>

#include <tranche/optimise/explain/detail/wider_values.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The first of `count` values, nearest first, that works: doubling the distance until one does, then halving what lies
/// between. It is the first one wherever all behind a working one work too, and has a neighbour in front that does not.
template <class Works>
[[nodiscard]] std::optional<std::int64_t> first_that_works(std::int64_t count, const Works& works) {
    std::int64_t fails = -1;
    for (std::int64_t i = 0; i < count; i = std::min(2 * i + 1, count - 1)) {
        if (!works(i)) {
            fails = i;
            if (i == count - 1) break;
            continue;
        }
        std::int64_t found = i;
        while (found - fails > 1) {
            const std::int64_t middle = fails + (found - fails) / 2;
            (works(middle) ? found : fails) = middle;
        }
        return found;
    }
    return std::nullopt;
}

/// By how much slabs of an option weigh more under a trim that leaves more, at most, in micrograms.
template <class = when_called>
[[nodiscard]] std::int64_t most_gained(const cutting_problem& less, const cutting_problem& more, std::size_t option) {
    if (less.trim(option) == more.trim(option)) return 0;
    const auto front_less = less.front(option), front_more = more.front(option);
    const auto back_less = less.back(option), back_more = more.back(option);
    const std::size_t thickest = less.is_portion(option) ? less.cells_of(option).second : less.cells();
    std::int64_t most = 0;
    for (std::size_t to = less.start() + 1; to <= less.cells(); ++to) {
        const std::size_t from = std::max(less.start(), to - std::min(to, thickest));
        most = std::max(most, (back_more[to] - back_less[to]) - (front_more[from] - front_less[from]));
    }
    return most;
}

/// Room for requests with a limit moved, and for what a search for trims makes of two of them.
struct limit_room {
    cutting_request moved{}, less{}, more{}, relaxed{};
    std::optional<cutting_problem> asked{}; ///< of the loin, whose tables others then share
    std::optional<cutting_problem> light{}, heavy{};

    [[nodiscard]] const cutting_request& move(const cutting_request& request, const request_limit& limit,
                                              const limit_value& to) {
        moved = request;
        move_limit(moved, limit, to);
        return moved;
    }
    /// A problem in the room of an earlier one.
    static const cutting_problem& make(std::optional<cutting_problem>& in, const cutting_problem& like,
                                       const cutting_request& request) {
        if (in)
            in->become(like, request.cuts, request.rules);
        else
            in.emplace(like, request.cuts, request.rules);
        return *in;
    }
};

/// A request that allows all that is allowed under any trim between `room.less` and `room.more`: weights are those of the one
/// that leaves less, and the lower limits give way by as much as slabs gain under the one that leaves more.
template <class = when_called>
[[nodiscard]] const cutting_request& between_trims(const profile& meat, limit_room& room) {
    if (!room.asked) room.asked.emplace(meat, room.less.cuts, room.less.rules);
    const cutting_problem& light = room.make(room.light, *room.asked, room.less);
    const cutting_problem& heavy = room.make(room.heavy, *room.asked, room.more);
    const auto lowered = [&](mass limit, std::int64_t by) {
        if (by == 0 || limit > to_mass(meat.total())) return limit; // above that no slab keeps it anyway
        return to_mass({std::max(std::int64_t{0}, to_micrograms(limit).count - by)});
    };
    cutting_request& relaxed = room.relaxed = room.less;
    std::int64_t loose = 0;
    for (std::size_t o = 0; o < light.option_count(); ++o) {
        const std::int64_t gained = most_gained(light, heavy, o), pieces = light.pieces(o);
        if (!light.is_portion(o)) {
            loose = std::max(loose, gained);
            continue;
        }
        mass& least = relaxed.cuts[o - light.loose_count()].portion.min;
        least = lowered(least, (gained + pieces - 1) / pieces);
    }
    relaxed.rules.remnant.weight = lowered(relaxed.rules.remnant.weight, loose);
    return relaxed;
}

/// Looks for the nearest trim that works. More left is not always better and less is not either, as portions have limits on
/// both sides; so ranges of trims are halved, the nearer half first, and ranges of which `might(between_trims(...))` says
/// that nothing in them works are left out. What is found is the nearest of all, as long as `might` is never wrong and a
/// trim that leaves more takes no more off any slab: without an over-cut that always holds.
///
/// Where `might` hopes in vain too often, it is given up after `most_looks` for `first_that_works`.
template <class Works, class Might>
class trim_search {
public:
    trim_search(const profile& meat, const cutting_request& request, const request_limit& limit,
                const limit_steps& steps, const Works& works, const Might& might, limit_room& room)
        : meat_(meat), request_(request), limit_(limit), steps_(steps), works_(works), might_(might), room_(room) {}

    /// Of two equally near, the one that leaves more.
    [[nodiscard]] std::optional<limit_value> nearest() {
        using way = wider_values<>::way;
        std::optional<limit_value> best;
        double distance = 0.0;
        for (const way which : {way::more_left, way::less_left}) {
            const wider_values values(meat_, request_, limit_, steps_, which);
            const auto off = [&](std::int64_t i) {
                return std::abs(in_grains(std::get<length>(values[i]) - length::from_value(values.now())));
            };
            const auto found = first_of(values);
            if (!found || (best && !(off(*found) < distance))) continue;
            best = values[*found];
            distance = off(*found);
        }
        return best;
    }

private:
    static constexpr std::size_t most_looks = 200;

    [[nodiscard]] const cutting_request& with(const wider_values<>& values, std::int64_t i) const {
        return room_.move(request_, limit_, values[i]);
    }

    [[nodiscard]] std::optional<std::int64_t> first_of(const wider_values<>& values) {
        looks_ = most_looks;
        if (values.count() == 0) return std::nullopt;
        const auto found = first_between(values, 0, values.count() - 1);
        if (found || looks_ > 0) return found;
        return first_that_works(values.count(), [&](std::int64_t i) { return works_(with(values, i)); });
    }

    [[nodiscard]] std::optional<std::int64_t> first_between(const wider_values<>& values, std::int64_t near,
                                                            std::int64_t far) {
        if (looks_ == 0) return std::nullopt;
        --looks_;
        if (near == far) return works_(with(values, near)) ? std::optional(near) : std::nullopt;
        const bool near_leaves_less = raw_number(values[near]) <= raw_number(values[far]);
        room_.less = with(values, near_leaves_less ? near : far);
        room_.more = with(values, near_leaves_less ? far : near);
        if (!might_(between_trims(meat_, room_))) return std::nullopt;
        const std::int64_t middle = near + (far - near) / 2;
        if (const auto found = first_between(values, near, middle)) return found;
        return first_between(values, middle + 1, far);
    }

    const profile& meat_;
    const cutting_request& request_;
    const request_limit& limit_;
    const limit_steps& steps_;
    const Works& works_;
    const Might& might_;
    limit_room& room_;
    std::size_t looks_ = most_looks;
};

/// Whether it is plain that the widest value of a limit allows every plan that one of its nearer values does. Not so where the
/// grid has to look for the nearest thickness or notch, and where what lies in front of a plan moves with the limit.
template <class = when_called>
[[nodiscard]] bool widest_allows_all(const profile& meat, const cutting_request& request, const request_limit& limit) {
    const auto links = [](const cut_spec& cut) { return cut.one_thickness; }; // a search of its own, which may be long
    if (std::any_of(request.cuts.begin(), request.cuts.end(), links)) return false;
    using kind = request_limit::kind;
    switch (limit.what) {
    case kind::thickness_min:
    case kind::thickness_max: {
        const cut_spec& cut = request.cuts[limit.index];
        return cut.thickness_step == length{} && cut.thickness.max - cut.thickness.min >= meat.step();
    }
    case kind::portion_min:
    case kind::portion_max:
    case kind::gluteus_medius_towards_rib:
    case kind::gluteus_medius_towards_sirloin:
    case kind::zone_from:
    case kind::zone_to:
    case kind::remnant_thickness:
    case kind::remnant_weight:
    case kind::loose_thickness:
    case kind::loose_zone_from:
    case kind::loose_zone_to: return true;
    default: return false;
    }
}

/// The nearest value of one limit for which `works(request)`, if there is one. `might(request)` says whether a request could
/// do so, and is asked about requests that are wider than any with a value in question. `room` is to work in.
template <class Works, class Might>
[[nodiscard]] std::optional<limit_value> nearest_value(const profile& meat, const cutting_request& request,
                                                       const request_limit& limit, const limit_steps& steps,
                                                       const Works& works, const Might& might, limit_room&& room = {}) {
    if (limit.of_a_trim()) return trim_search<Works, Might>(meat, request, limit, steps, works, might, room).nearest();
    if (limit.what == request_limit::kind::pieces) { // neither way is wider, so one after the other
        const std::int64_t now = request.cuts[limit.index].pieces;
        for (std::int64_t off = 1; off < 100; ++off)
            for (const std::int64_t pieces : {now + off, now - off})
                if (1 <= pieces && pieces <= 100 && works(room.move(request, limit, pieces)))
                    return limit_value{pieces};
        return std::nullopt;
    }
    const wider_values values(meat, request, limit, steps);
    if (values.count() > 2 && widest_allows_all(meat, request, limit) &&
        !might(room.move(request, limit, values[values.count() - 1])))
        return std::nullopt;
    const auto found =
        first_that_works(values.count(), [&](std::int64_t i) { return works(room.move(request, limit, values[i])); });
    return found ? std::optional(values[*found]) : std::nullopt;
}

} // namespace tranche::detail
