// What may be made of a loin: portions, loose meat, and the rules that hold for the whole of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// How much gluteus medius a portion may show, as its share of the lean on the face towards the rib and on the face
/// towards the sirloin. Once the muscle has entered the loin it counts as present from there on.
struct gluteus_medius_rule {
    fraction towards_rib = 1.0, towards_sirloin = 1.0;

    friend bool operator==(const gluteus_medius_rule&, const gluteus_medius_rule&) = default;
};
inline constexpr gluteus_medius_rule any_gluteus_medius{1.0, 1.0};
inline constexpr gluteus_medius_rule no_gluteus_medius{0.0, 0.0};
/// The centre-cut rule: cut at or in front of the gluteus medius; if present, on one face of a steak only (USDA IMPS,
/// Fresh Beef, Series 100, November 2014, item 1180A).
inline constexpr gluteus_medius_rule on_one_face{0.0, 1.0};
/// At most `share` of the lean on either face. `share` is 0 to 1, which `validate` of the spec checks. Throws nothing.
[[nodiscard]] constexpr gluteus_medius_rule gluteus_medius_up_to(fraction share) { return {share, share}; }

/// One kind of portion. A slab of the thickness is cut, trimmed and divided into `pieces` equal portions. Lengths are read to
/// 1/16 um and shares to a billionth, so a plan's specs may differ from those that were asked for in their last bits.
struct cut_spec {
    std::string name{};                               ///< not empty; unlike the other names in a request
    quantity_range<length> thickness{};               ///< of the slab, between the cuts; min above zero
    quantity_range<mass> portion{};                   ///< of one portion after trimming; by default any weight
    int pieces = 1;                                   ///< 1 for a steak, 2 for a halved fillet; 1 to 100
    trim_spec trim{};                                 ///< what comes off each slab
    gluteus_medius_rule gluteus_medius = on_one_face; ///< what it tolerates of the second muscle
    length kerf{};                                    ///< lost to the knife or saw behind each slab, zero or more
    quantity_range<length> zone{};                    ///< of the loin, from the rib face: where its slabs must lie
    length thickness_step{};                          ///< of a slicer with notches: only thickness.min + a whole number
                                                      ///< of steps; zero for any thickness
    bool one_thickness = false;                       ///< whether all its slabs in a plan have to be equally thick

    friend bool operator==(const cut_spec&, const cut_spec&) = default;
};

/// The cuts of a request, the preferred ones first. Made of one cut, of several in braces, or of a vector, so that
/// whatever plans takes any of these. Nothing is checked when it is made: `validate` does that.
struct cut_list : std::vector<cut_spec> {
    cut_list() = default;
    /// The list of that one cut. Throws nothing but for lack of memory.
    cut_list(cut_spec only) { push_back(std::move(only)); } // NOLINT: a cut is a list
    /// These cuts in this order. Throws nothing.
    cut_list(std::vector<cut_spec> cuts) : std::vector<cut_spec>(std::move(cuts)) {} // NOLINT
    /// The same, written in braces.
    cut_list(std::initializer_list<cut_spec> cuts) : std::vector<cut_spec>(cuts) {}
};

namespace detail {

[[nodiscard]] inline cut_spec snapped(cut_spec spec) {
    spec.thickness = snapped(spec.thickness);
    spec.trim = snapped(spec.trim);
    spec.gluteus_medius = {snapped_share(spec.gluteus_medius.towards_rib),
                           snapped_share(spec.gluteus_medius.towards_sirloin)};
    spec.kerf = snapped(spec.kerf);
    spec.zone = snapped(spec.zone);
    spec.thickness_step = snapped(spec.thickness_step);
    return spec;
}
[[nodiscard]] inline cut_list snapped(cut_list specs) {
    for (cut_spec& spec : specs) spec = snapped(std::move(spec));
    return specs;
}

} // namespace detail

/// Throws `invalid_input` naming the field (after the spec's name), the value and the limit. Thickness is above zero,
/// its ends the right way round as those of portion and zone; pieces are 1 to 100, shares 0 to 1, kerf, step and trims
/// zero or more. Lengths are in metres, weights in kilograms. That 100 pieces are the most is common practice, no
/// source.
inline void validate(const cut_spec& spec) {
    if (spec.name.empty()) throw invalid_input("name", "\"\"", "a name for the cut");
    try { // so that no name is put together for a spec that is right, nor copied
        detail::require_range(detail::snapped(spec.thickness), "thickness");
        detail::require_positive(detail::snapped(spec.thickness.min), "thickness.min");
        detail::require_range(spec.portion, "portion");
        if (!(spec.portion.max > mass{})) throw invalid_input("portion.max", spec.portion.max, "above zero");
        if (spec.pieces < 1 || spec.pieces > 100)
            throw invalid_input("pieces", std::to_string(spec.pieces), "1 to 100");
        validate(detail::snapped(spec.trim), "trim.");
        detail::require_share(detail::snapped_share(spec.gluteus_medius.towards_rib), "gluteus_medius.towards_rib");
        detail::require_share(detail::snapped_share(spec.gluteus_medius.towards_sirloin),
                              "gluteus_medius.towards_sirloin");
        detail::require_not_negative(detail::snapped(spec.kerf), "kerf");
        detail::require_range(detail::snapped(spec.zone), "zone");
        detail::require_not_negative(detail::snapped(spec.thickness_step), "thickness_step");
    } catch (const invalid_input& e) {
        throw within(spec.name + ": ", e);
    }
}

/// Where loose meat may lie beside portions.
enum class loose_place {
    anywhere, ///< in front of them, between them and behind them
    ends,     ///< in front of the first and behind the last one, that is from the facing or up to the sirloin face
    nowhere   ///< not at all
};

/// What becomes of meat that is not portioned.
///
/// The rules on its place are for loins that are portioned: all of a loin, or all that lies between two pinned cuts, may be one
/// slab of the first loose cut whatever its place and zone. So there always is a plan, if only one without portions.
struct loose_cut {
    destination goes_to = destination::grind;
    trim_spec trim{};                           ///< what is taken off before
    length least_thickness = 10.0 * millimetre; ///< of a stretch between portions; what is left at either end may be
                                                ///< thinner. 10 mm is common practice, no source
    loose_place place = loose_place::anywhere;
    quantity_range<length> zone{}; ///< of the loin, from the rib face: where it must lie

    friend bool operator==(const loose_cut&, const loose_cut&) = default;
};

/// What may be left at the sirloin end: nothing, or a piece of loose meat at least this thick and this heavy once trimmed. A
/// rest of which nothing at all is portioned is no remnant.
struct least_remnant {
    length thickness{};
    mass weight{};
    bool required = false; ///< whether such a piece must be left: no portion then reaches up to the sirloin face

    friend bool operator==(const least_remnant&, const least_remnant&) = default;
};

/// An order along the loin: every slab of `first` lies nearer the rib than any slab of `then`. Names of specs.
struct cut_order {
    std::string first{}, then{};

    friend bool operator==(const cut_order&, const cut_order&) = default;
};

/// What holds for the whole loin. Fat, tail and silverskin may be trimmed on the whole loin before it is cut, on each slab
/// afterwards (`cut_spec::trim`), or both; whole is quicker, and its over-cut is the larger one.
///
/// A place of `cut_at` is met by the nearest position of the grid: no slab lies across it, and the kerf of the slab in front of
/// it ends there. Loose meat beside it may be as thin as at the ends of the loin, and what it leaves up to the sirloin face is
/// no remnant. A stretch of `kept_whole` may be cut at its ends, not between; a kerf stays out of it too. On a coarse grid a
/// place of `cut_at` at the end of such a stretch counts as outside, wherever its nearest position lies.
struct cutting_rules {
    trim_spec trim_whole{};                          ///< what comes off the whole loin before the first cut
    length facing{};                                 ///< thickness of the cut that squares the rib end, zero for none
    destination facing_goes_to = destination::grind; ///< the facing goes there, trimmed only as the whole loin is
    std::vector<loose_cut> loose{loose_cut{}};       ///< ways to use what is not portioned; at least one
    by_tissue<destination> trim_goes_to{
        {destination::grind, destination::grind, destination::rendering, destination::grind, destination::discard}};
    least_remnant remnant{};
    std::vector<cut_order> order{};
    std::vector<length> cut_at{};                     ///< the knife goes here, from the rib face, whatever else is best
    std::vector<quantity_range<length>> kept_whole{}; ///< no cut goes through these stretches, from the rib face

    friend bool operator==(const cutting_rules&, const cutting_rules&) = default;
};

namespace detail {

[[nodiscard]] inline cutting_rules snapped(cutting_rules rules) {
    rules.trim_whole = snapped(rules.trim_whole);
    rules.facing = snapped(rules.facing);
    for (loose_cut& loose : rules.loose) {
        loose.trim = snapped(loose.trim);
        loose.least_thickness = snapped(loose.least_thickness);
        loose.zone = snapped(loose.zone);
    }
    rules.remnant.thickness = snapped(rules.remnant.thickness);
    for (length& at : rules.cut_at) at = snapped(at);
    for (quantity_range<length>& stretch : rules.kept_whole) stretch = snapped(stretch);
    return rules;
}

/// Whether a place lies in a stretch, and not at its ends.
[[nodiscard]] inline bool is_inside(length at, const quantity_range<length>& stretch) {
    return stretch.min < at && at < stretch.max;
}

/// `cut_at` and `kept_whole` of rules that are on the grain.
inline void validate_places(const cutting_rules& rules, length extent) {
    const auto named = [](const char* list, std::size_t i) { return list + ("[" + std::to_string(i) + "]"); };
    for (std::size_t i = 0; i < rules.kept_whole.size(); ++i) {
        const quantity_range<length>& stretch = rules.kept_whole[i];
        require_range(stretch, named("kept_whole", i));
        if (is_inside(rules.facing, stretch))
            throw invalid_input(named("kept_whole", i) + ".min", stretch.min,
                                sentence("at or behind the facing cut at ") + rules.facing);
    }
    for (std::size_t i = 0; i < rules.cut_at.size(); ++i) {
        const length at = rules.cut_at[i];
        if (!(rules.facing <= at && at <= extent))
            throw invalid_input(named("cut_at", i), at,
                                sentence("from the facing cut at ") + rules.facing + " to the sirloin face at " +
                                    rounded_down(extent));
        for (std::size_t k = 0; k < rules.kept_whole.size(); ++k)
            if (is_inside(at, rules.kept_whole[k]))
                throw invalid_input(named("cut_at", i), at,
                                    sentence("outside of " + named("kept_whole", k) + ", ") + rules.kept_whole[k].min +
                                        " to " + rules.kept_whole[k].max);
    }
}

} // namespace detail

/// Throws `invalid_input` for rules that are impossible in themselves or on a loin of this extent. The facing is zero
/// or more and shorter than the loin; trims, remnant and the least thickness of loose meat are zero or more, the ends
/// of its zone the right way round, and there is at least one way to use loose meat. Places of `cut_at` lie from the
/// facing to the sirloin face, and inside no stretch of `kept_whole`; no more does the facing. Lengths are in metres,
/// weights in kilograms.
inline void validate(const cutting_rules& rules, length extent) {
    validate(rules.trim_whole, "trim_whole.");
    detail::require_not_negative(rules.facing, "facing");
    if (!(detail::snapped(rules.facing) < detail::snapped(extent)))
        throw invalid_input("facing", rules.facing,
                            sentence("less than the loin's length, ") + detail::rounded_down(extent));
    if (rules.loose.empty()) throw invalid_input("loose", "none", "at least one way to use loose meat");
    for (std::size_t i = 0; i < rules.loose.size(); ++i) {
        const loose_cut& loose = rules.loose[i];
        try {
            validate(loose.trim, "trim.");
            detail::require_not_negative(loose.least_thickness, "least_thickness");
            detail::require_range(loose.zone, "zone");
        } catch (const invalid_input& e) {
            throw within("loose[" + std::to_string(i) + "].", e);
        }
    }
    detail::require_not_negative(rules.remnant.thickness, "remnant.thickness");
    detail::require_not_negative(rules.remnant.weight, "remnant.weight");
    if (!rules.cut_at.empty() || !rules.kept_whole.empty())
        detail::validate_places(detail::snapped(rules), detail::snapped(extent));
}

/// Throws `invalid_input` for an empty list, a bad spec, or a name that stands twice. O(specs²).
inline void validate(const std::vector<cut_spec>& specs) {
    if (specs.empty()) throw invalid_input("specs", "none", "at least one cut");
    for (std::size_t i = 0; i < specs.size(); ++i) {
        validate(specs[i]);
        for (std::size_t k = 0; k < i; ++k)
            if (specs[k].name == specs[i].name)
                throw invalid_input("name", '"' + specs[i].name + "\" twice", "a name of its own for each cut");
    }
}

/// Throws `invalid_input` for an order that names no spec, or that comes full circle: nothing lies before itself.
/// O(specs³).
inline void validate(const std::vector<cut_order>& order, const std::vector<cut_spec>& specs) {
    if (order.empty()) return;
    std::vector<std::vector<bool>> before(specs.size(), std::vector<bool>(specs.size()));
    const auto index = [&](const std::string& name) {
        std::size_t i = 0;
        while (i < specs.size() && specs[i].name != name) ++i;
        if (i == specs.size()) throw invalid_input("order", '"' + name + '"', "the name of a spec");
        return i;
    };
    for (const cut_order& o : order) before[index(o.first)][index(o.then)] = true;
    for (std::size_t via = 0; via < specs.size(); ++via)
        for (std::size_t a = 0; a < specs.size(); ++a)
            for (std::size_t b = 0; b < specs.size(); ++b)
                if (before[a][via] && before[via][b]) before[a][b] = true;
    for (std::size_t i = 0; i < specs.size(); ++i)
        if (before[i][i]) throw invalid_input("order", specs[i].name + " before itself", "an order without a circle");
}

} // namespace tranche
