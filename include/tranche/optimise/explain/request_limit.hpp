// The single limits of a request, as data: what each is, how far it can be widened, and the request with one of them
// moved.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <type_traits>
#include <variant>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/tail_limit.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/optimise/request/demand.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// One number in a request that keeps plans out, or one thing that is asked for or not.
struct request_limit {
    enum class kind {
        thickness_min,                  ///< of a spec; wider is lower
        thickness_max,                  ///< of a spec; wider is higher
        portion_min,                    ///< of a spec; wider is lower
        portion_max,                    ///< of a spec; wider is higher
        pieces,                         ///< of a spec; it can be moved both ways, and neither is wider
        gluteus_medius_towards_rib,     ///< of a spec; wider is higher, and the other face is allowed as much
        gluteus_medius_towards_sirloin, ///< of a spec; wider is higher
        kerf,                           ///< of a spec; wider is lower, though on a grid less may also lose a plan
        zone_from,                      ///< of a spec, from the rib face; wider is lower
        zone_to,                        ///< of a spec, from the rib face; wider is higher
        thickness_step,                 ///< of a spec; wider is none, and no other step is looked at
        one_thickness,                  ///< of a spec; wider is not asked for
        fat_left,        ///< of a spec's trim: how thick a fat cover it leaves; moved both ways, neither is wider
        tail_left,       ///< of a spec's trim: how long a tail it leaves; moved both ways. Of a limit that tapers it is
                         ///< what its longer end leaves, and the other end moves along
        whole_fat_left,  ///< of the rules, the trim of the whole loin; moved both ways
        whole_tail_left, ///< of the rules, the trim of the whole loin; moved both ways
        order,           ///< of the rules, one order of cuts; wider is not asked for
        facing,          ///< of the rules; wider is lower
        remnant_thickness, ///< of the rules; wider is lower
        remnant_weight,    ///< of the rules; wider is lower
        remnant_required,  ///< of the rules; wider is not asked for
        loose_thickness,   ///< of a loose cut, the least one; wider is lower
        loose_place,       ///< of a loose cut; wider is anywhere, which is not asked for
        loose_zone_from,   ///< of a loose cut, from the rib face; wider is lower
        loose_zone_to,     ///< of a loose cut, from the rib face; wider is higher
        at_least,          ///< of a demand; wider is lower
        at_most            ///< of a demand; wider is higher
    };
    kind what = kind::thickness_min;
    std::size_t index = 0; ///< of the spec, the order, the loose cut or the demand; 0 for the others

    /// Whether it is a limit of a spec, and `index` that of the spec. Throws nothing.
    [[nodiscard]] bool of_a_spec() const { return what < kind::whole_fat_left; }
    /// Whether it is what a trim leaves: more makes portions heavier, less makes them lighter, and either may help.
    /// Throws nothing.
    [[nodiscard]] bool of_a_trim() const { return kind::fat_left <= what && what <= kind::whole_tail_left; }

    friend bool operator==(const request_limit&, const request_limit&) = default;
};

/// The value of a limit: a length, a mass, a share of gluteus medius, a number of pieces or portions, or whether it is asked
/// for.
using limit_value = std::variant<length, mass, fraction, std::int64_t, bool>;

/// A limit moved to the nearest value that does what was asked for.
struct limit_move {
    request_limit which;
    limit_value from{}, to{};
    std::size_t portions = 0; ///< of the plan with the change

    friend bool operator==(const limit_move&, const limit_move&) = default;
};

/// How finely changes of limits are told apart, or how far each is moved: finite and above zero.
struct limit_steps {
    length thickness =
        0.01 * millimetre;     ///< of slabs, facing, loose meat and remnant, of kerfs and of ends of zones, and
                               ///< of what a trim leaves
    mass portion = 0.1 * gram; ///< of portions and of the remnant
    fraction share = 0.001;    ///< of gluteus medius

    friend bool operator==(const limit_steps&, const limit_steps&) = default;
};

/// Throws `invalid_input` naming the field. Every step is above zero and finite: a length, a mass, a share.
template <class = detail::when_called>
void validate(const limit_steps& steps) {
    detail::require_positive(steps.thickness, "steps.thickness");
    detail::require_positive(steps.portion, "steps.portion");
    detail::require_positive(steps.share, "steps.share");
}

/// What a limit is in a request that has it. A length, a mass, a share or a whole number, by the kind of the limit.
/// `limit` must be one of the request: an index beyond its lists is not checked. Throws nothing.
template <class = detail::when_called>
[[nodiscard]] limit_value value_of(const cutting_request& request, const request_limit& limit) {
    using kind = request_limit::kind;
    const std::size_t i = limit.index;
    switch (limit.what) {
    case kind::thickness_min: return request.cuts[i].thickness.min;
    case kind::thickness_max: return request.cuts[i].thickness.max;
    case kind::portion_min: return request.cuts[i].portion.min;
    case kind::portion_max: return request.cuts[i].portion.max;
    case kind::pieces: return std::int64_t{request.cuts[i].pieces};
    case kind::gluteus_medius_towards_rib: return request.cuts[i].gluteus_medius.towards_rib;
    case kind::gluteus_medius_towards_sirloin: return request.cuts[i].gluteus_medius.towards_sirloin;
    case kind::kerf: return request.cuts[i].kerf;
    case kind::zone_from: return request.cuts[i].zone.min;
    case kind::zone_to: return request.cuts[i].zone.max;
    case kind::thickness_step: return request.cuts[i].thickness_step;
    case kind::one_thickness: return request.cuts[i].one_thickness;
    case kind::fat_left: return request.cuts[i].trim.fat_cover;
    case kind::tail_left: return request.cuts[i].trim.tail.longer_end();
    case kind::whole_fat_left: return request.rules.trim_whole.fat_cover;
    case kind::whole_tail_left: return request.rules.trim_whole.tail.longer_end();
    case kind::order: return i < request.rules.order.size();
    case kind::facing: return request.rules.facing;
    case kind::remnant_thickness: return request.rules.remnant.thickness;
    case kind::remnant_weight: return request.rules.remnant.weight;
    case kind::remnant_required: return request.rules.remnant.required;
    case kind::loose_thickness: return request.rules.loose[i].least_thickness;
    case kind::loose_place: return request.rules.loose[i].place != tranche::loose_place::anywhere;
    case kind::loose_zone_from: return request.rules.loose[i].zone.min;
    case kind::loose_zone_to: return request.rules.loose[i].zone.max;
    case kind::at_least: return request.demands[i].at_least;
    case kind::at_most: break;
    }
    return request.demands[i].at_most;
}

namespace detail {

/// As `moved`, the request itself.
template <class = when_called>
void move_limit(cutting_request& request, const request_limit& limit, const limit_value& to) {
    using kind = request_limit::kind;
    const std::size_t i = limit.index;
    switch (limit.what) {
    case kind::thickness_min: request.cuts[i].thickness.min = std::get<length>(to); break;
    case kind::thickness_max: request.cuts[i].thickness.max = std::get<length>(to); break;
    case kind::portion_min: request.cuts[i].portion.min = std::get<mass>(to); break;
    case kind::portion_max: request.cuts[i].portion.max = std::get<mass>(to); break;
    case kind::pieces: request.cuts[i].pieces = static_cast<int>(std::get<std::int64_t>(to)); break;
    case kind::gluteus_medius_towards_rib: {
        gluteus_medius_rule& rule = request.cuts[i].gluteus_medius;
        rule.towards_rib = std::get<fraction>(to);
        rule.towards_sirloin = std::max(rule.towards_sirloin, rule.towards_rib);
        break;
    }
    case kind::gluteus_medius_towards_sirloin:
        request.cuts[i].gluteus_medius.towards_sirloin = std::get<fraction>(to);
        break;
    case kind::kerf: request.cuts[i].kerf = std::get<length>(to); break;
    case kind::zone_from: request.cuts[i].zone.min = std::get<length>(to); break;
    case kind::zone_to: request.cuts[i].zone.max = std::get<length>(to); break;
    case kind::thickness_step: request.cuts[i].thickness_step = std::get<length>(to); break;
    case kind::one_thickness: request.cuts[i].one_thickness = std::get<bool>(to); break;
    case kind::fat_left: request.cuts[i].trim.fat_cover = std::get<length>(to); break;
    case kind::tail_left:
    case kind::whole_tail_left: {
        trim_spec& trim = limit.what == kind::tail_left ? request.cuts[i].trim : request.rules.trim_whole;
        trim.tail = trim.tail.with_longer_end(std::get<length>(to));
        break;
    }
    case kind::whole_fat_left: request.rules.trim_whole.fat_cover = std::get<length>(to); break;
    case kind::order: {
        std::vector<cut_order>& order = request.rules.order;
        if (!std::get<bool>(to)) order.erase(order.begin() + static_cast<std::ptrdiff_t>(i));
        break;
    }
    case kind::facing: request.rules.facing = std::get<length>(to); break;
    case kind::remnant_thickness: request.rules.remnant.thickness = std::get<length>(to); break;
    case kind::remnant_weight: request.rules.remnant.weight = std::get<mass>(to); break;
    case kind::remnant_required: request.rules.remnant.required = std::get<bool>(to); break;
    case kind::loose_thickness: request.rules.loose[i].least_thickness = std::get<length>(to); break;
    case kind::loose_place:
        if (!std::get<bool>(to)) request.rules.loose[i].place = tranche::loose_place::anywhere;
        break;
    case kind::loose_zone_from: request.rules.loose[i].zone.min = std::get<length>(to); break;
    case kind::loose_zone_to: request.rules.loose[i].zone.max = std::get<length>(to); break;
    case kind::at_least: request.demands[i].at_least = std::get<std::int64_t>(to); break;
    case kind::at_most: request.demands[i].at_most = std::get<std::int64_t>(to); break;
    }
}

} // namespace detail

/// The request with that one limit at another value, which is of the same kind. An order that is no longer asked for leaves
/// the list, and those behind it move up. The index must be one of the request. Throws `std::bad_variant_access` for a
/// value of another kind; whether the value makes sense `cutting_problem` checks. O(size of the request).
template <class = detail::when_called>
[[nodiscard]] cutting_request moved(cutting_request request, const request_limit& limit, const limit_value& to) {
    detail::move_limit(request, limit, to);
    return request;
}

/// "31.5 mm", "340 g", "12.5 %", "3"; "unlimited" for what is; "asked for", "not asked for". Lengths in millimetres,
/// masses in grams, shares in per cent, to the digits that tell them apart. Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] std::string limit_text(const limit_value& value) {
    const auto text = [](const auto& v) -> std::string {
        if constexpr (std::is_same_v<std::decay_t<decltype(v)>, fraction>)
            return detail::shown(100.0 * v, 1) + " %";
        else if constexpr (std::is_same_v<std::decay_t<decltype(v)>, bool>)
            return v ? "asked for" : "not asked for";
        else if constexpr (std::is_same_v<std::decay_t<decltype(v)>, std::int64_t>)
            return v == demand::any_number ? "unlimited" : std::to_string(v);
        else
            return std::isfinite(v.value()) ? detail::shown(v) : "unlimited";
    };
    return std::visit(text, value);
}

/// The same, and "all of it" for a trim that leaves all. Throws nothing but for lack of memory.
template <class = detail::when_called>
[[nodiscard]] std::string limit_text(const request_limit& limit, const limit_value& value) {
    const bool all = limit.of_a_trim() && !std::isfinite(std::get<length>(value).value());
    return all ? "all of it" : limit_text(value);
}

namespace detail {

/// What the limit belongs to: the name of a spec, "whole loin", "loose meat", or the two cuts of an order.
template <class = when_called>
[[nodiscard]] std::string owner_of(const cutting_request& request, const request_limit& limit) {
    using kind = request_limit::kind;
    switch (limit.what) {
    case kind::whole_fat_left:
    case kind::whole_tail_left:
    case kind::facing:
    case kind::remnant_thickness:
    case kind::remnant_weight:
    case kind::remnant_required: return "whole loin";
    case kind::order: {
        const cut_order& order = request.rules.order[limit.index];
        return order.first + " before " + order.then;
    }
    case kind::loose_thickness:
    case kind::loose_place:
    case kind::loose_zone_from:
    case kind::loose_zone_to: return "loose meat for " + std::string(name_of(request.rules.loose[limit.index].goes_to));
    case kind::at_least:
    case kind::at_most: return request.cuts[spec_of(request.demands[limit.index], request.cuts)].name;
    default: return request.cuts[limit.index].name;
    }
}

} // namespace detail

/// "least thickness": what kind of limit it is. Without its spec or loose cut. Any limit; throws nothing but for lack
/// of memory.
template <class = detail::when_called>
[[nodiscard]] std::string name_of(const request_limit& limit) {
    using kind = request_limit::kind;
    switch (limit.what) {
    case kind::thickness_min:
    case kind::loose_thickness: return "least thickness";
    case kind::thickness_max: return "largest thickness";
    case kind::portion_min: return "least portion";
    case kind::portion_max: return "largest portion";
    case kind::pieces: return "pieces to a slab";
    case kind::gluteus_medius_towards_rib: return "gluteus medius towards the rib";
    case kind::gluteus_medius_towards_sirloin: return "gluteus medius towards the sirloin";
    case kind::kerf: return "kerf";
    case kind::zone_from:
    case kind::loose_zone_from: return "start of the zone";
    case kind::zone_to:
    case kind::loose_zone_to: return "end of the zone";
    case kind::thickness_step: return "step between thicknesses";
    case kind::one_thickness: return "one thickness for all";
    case kind::fat_left:
    case kind::whole_fat_left: return "fat cover left";
    case kind::tail_left:
    case kind::whole_tail_left: return "tail left";
    case kind::order: return "order of cuts";
    case kind::facing: return "facing";
    case kind::remnant_thickness: return "thickness of the least remnant";
    case kind::remnant_weight: return "weight of the least remnant";
    case kind::remnant_required: return "a remnant at all";
    case kind::loose_place: return "rule on its place";
    case kind::at_least: return "portions, at least";
    case kind::at_most: break;
    }
    return "portions, at most";
}

namespace detail {

/// The tail that a limit of a request is about; one that tapers nowhere where it is about something else.
template <class = when_called>
[[nodiscard]] tail_limit tail_of(const cutting_request& request, const request_limit& limit) {
    if (limit.what == request_limit::kind::tail_left) return request.cuts[limit.index].trim.tail;
    return limit.what == request_limit::kind::whole_tail_left ? request.rules.trim_whole.tail : tail_limit{};
}

/// What a change of the limit is about: its name, and of a tail that tapers at which end.
template <class = when_called>
[[nodiscard]] std::string name_in(const cutting_request& request, const request_limit& limit) {
    return name_of(limit) + (tail_of(request, limit).tapers() ? " at the longer end" : "");
}

/// Every limit of a request, spec by spec, then those of the rules, then those of the demands. Ones that cannot be
/// wider on this loin are among them.
template <class = when_called>
void write_limits(const cutting_request& request, std::vector<request_limit>& all) {
    using kind = request_limit::kind;
    all.clear();
    for (std::size_t i = 0; i < request.cuts.size(); ++i)
        for (const kind what :
             {kind::thickness_min, kind::thickness_max, kind::portion_min, kind::portion_max, kind::pieces,
              kind::gluteus_medius_towards_rib, kind::gluteus_medius_towards_sirloin, kind::kerf, kind::zone_from,
              kind::zone_to, kind::thickness_step, kind::one_thickness, kind::fat_left, kind::tail_left})
            all.push_back({what, i});
    for (const kind what : {kind::whole_fat_left, kind::whole_tail_left}) all.push_back({what, 0});
    for (std::size_t i = 0; i < request.rules.order.size(); ++i) all.push_back({kind::order, i});
    for (const kind what : {kind::facing, kind::remnant_thickness, kind::remnant_weight, kind::remnant_required})
        all.push_back({what, 0});
    for (std::size_t i = 0; i < request.rules.loose.size(); ++i)
        for (const kind what : {kind::loose_thickness, kind::loose_place, kind::loose_zone_from, kind::loose_zone_to})
            all.push_back({what, i});
    for (std::size_t i = 0; i < request.demands.size(); ++i)
        for (const kind what : {kind::at_least, kind::at_most}) all.push_back({what, i});
}
template <class = when_called>
[[nodiscard]] std::vector<request_limit> limits_of(const cutting_request& request) {
    std::vector<request_limit> all;
    write_limits(request, all);
    return all;
}

} // namespace detail

} // namespace tranche
