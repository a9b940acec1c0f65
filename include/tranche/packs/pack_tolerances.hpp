// Published tolerances of steaks by weight, thickness and fat, as data with their source; and whether a pack keeps them.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <tranche/packs/steak_pack.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// What is allowed above and below the ordered value, for orders up to `up_to`.
template <class Quantity>
struct tolerance_band {
    Quantity up_to = unlimited<Quantity>();
    bool inclusive = true; ///< whether an order of just `up_to` is in this band
    Quantity plus_minus{};

    friend bool operator==(const tolerance_band&, const tolerance_band&) = default;
};

/// Tolerances of one document; what it does not speak of stays empty. There is no default: which document holds is a matter
/// of the contract and of local law. The text of `source` is not copied, so it must outlive this, as literals do.
struct pack_tolerances {
    std::string_view source{};
    std::vector<tolerance_band<mass>> weight{};               ///< of a portion, rising; the last without an upper limit
    std::vector<tolerance_band<length>> thickness{};          ///< the same
    std::optional<quantity_range<length>> fat_cover{};        ///< mean over the rim
    std::optional<quantity_range<length>> fat_at_one_point{}; ///< at the thickest point

    friend bool operator==(const pack_tolerances&, const pack_tolerances&) = default;
};

/// USDA AMS, Institutional Meat Purchase Specifications, Fresh Beef, Series 100 (effective November 2014), section 3.5.1;
/// quoted: read in a text that quotes it. Portions under 6 oz ± 1/4 oz, 6 to 12 oz ± 1/2, over 12 to 24 oz ± 3/4, over
/// 24 oz ± 1; thickness to 1.0 in ± 3/16 in, over 1.0 in ± 1/4. Throws nothing.
[[nodiscard]] inline pack_tolerances imps_series_100_tolerances() {
    return {.source = "USDA AMS, IMPS Fresh Beef Series 100 (2014), 3.5.1 (quoted)",
            .weight = {{6.0 * ounce, false, 0.25 * ounce},
                       {12.0 * ounce, true, 0.5 * ounce},
                       {24.0 * ounce, true, 0.75 * ounce},
                       {unlimited<mass>(), true, 1.0 * ounce}},
            .thickness = {{1.0 * inch, true, 0.1875 * inch}, {unlimited<length>(), true, 0.25 * inch}}};
}

/// Defense Commissary Agency, Technical Data Sheet, Fresh/Frozen Beef (April 2012; read in the source): surface fat of a
/// purchased cut at most 1/4 in on average and at most 1/2 in at any one point. Throws nothing.
[[nodiscard]] inline pack_tolerances deca_2012_tolerances() {
    return {.source = "Defense Commissary Agency, Technical Data Sheet, Fresh/Frozen Beef (2012)",
            .fat_cover = quantity_range<length>{length{}, 0.25 * inch},
            .fat_at_one_point = quantity_range<length>{length{}, 0.5 * inch}};
}

/// AUS-MEAT industry standard, beef, striploin of young grain-fed cattle (read in the source): portion fat 3 to 8 mm. Read
/// here as true of the rim wherever it is measured, so of its mean and of its thickest point. Throws nothing.
[[nodiscard]] inline pack_tolerances aus_meat_portion_tolerances() {
    const quantity_range<length> fat{3.0 * millimetre, 8.0 * millimetre};
    return {.source = "AUS-MEAT industry standard, beef: striploin, young grain-fed",
            .fat_cover = fat,
            .fat_at_one_point = fat};
}

/// What was ordered; a weight or thickness that was not agreed stays empty.
struct ordered_steak {
    std::optional<mass> portion{};
    std::optional<length> thickness{};

    friend bool operator==(const ordered_steak&, const ordered_steak&) = default;
};

enum class tolerance_verdict { inside, outside, not_known };

/// What was found, what was ordered and what is allowed: none where nothing was measured, ordered or so allowed.
template <class Quantity>
struct found_and_allowed {
    std::optional<Quantity> found{}, ordered{};
    std::optional<quantity_range<Quantity>> allowed{};

    friend bool operator==(const found_and_allowed&, const found_and_allowed&) = default;
};

/// One limit of a document held against a pack.
struct tolerance_finding {
    std::string what;
    tolerance_verdict verdict = tolerance_verdict::not_known;
    std::variant<found_and_allowed<mass>, found_and_allowed<length>> values{};

    friend bool operator==(const tolerance_finding&, const tolerance_finding&) = default;
};

namespace detail {

/// A hair wider than the limit, because 1/2 in has several neighbours in binary and all of them are meant.
inline constexpr double same_length_or_mass = 1e-9;

template <class Quantity>
[[nodiscard]] bool within_limits(Quantity value, const quantity_range<Quantity>& limits) {
    return value >= limits.min * (1.0 - same_length_or_mass) && value <= limits.max * (1.0 + same_length_or_mass);
}

template <class Quantity>
[[nodiscard]] Quantity tolerance_for(Quantity ordered, const std::vector<tolerance_band<Quantity>>& bands,
                                     std::string_view source) {
    for (const tolerance_band<Quantity>& band : bands) {
        const double over = ordered / band.up_to - 1.0; // -1 where there is no limit
        if (over < -same_length_or_mass || (band.inclusive && over <= same_length_or_mass)) return band.plus_minus;
    }
    throw invalid_input("tolerances of " + std::string(source), "none for " + detail::shown(ordered),
                        "a last band without an upper limit");
}

} // namespace detail

/// Holds a pack against the tolerances of one document: portion weight and thickness against what was ordered, fat
/// against its limits. A weight is that of the average piece: a pack tells no more. Where the thickest fat was not
/// measured, a mean beyond the limit of any one point is outside, and otherwise it is not known. One finding for each
/// limit that the document has. Throws `invalid_input` for a pack that is not valid, an order that is not above zero,
/// and bands without an end. O(bands). Weights in kilograms, lengths in metres.
template <currency C>
[[nodiscard]] std::vector<tolerance_finding> held_against(const pack_tolerances& limits, const steak_pack<C>& pack,
                                                          const ordered_steak& ordered = {}) {
    validate(pack);
    using enum tolerance_verdict;
    std::vector<tolerance_finding> findings;
    const auto about_order = [&]<class Quantity>(const char* what, Quantity found,
                                                 const std::optional<Quantity>& wanted,
                                                 const std::vector<tolerance_band<Quantity>>& bands) {
        if (bands.empty()) return;
        found_and_allowed<Quantity> values{found, wanted, std::nullopt};
        if (!wanted) {
            findings.push_back({what, not_known, values});
            return;
        }
        detail::require_positive(*wanted, std::string("ordered ") + what);
        const Quantity most = detail::tolerance_for(*wanted, bands, limits.source);
        values.allowed = quantity_range<Quantity>{std::max(*wanted - most, Quantity{}), *wanted + most};
        findings.push_back({what, detail::within_limits(found, *values.allowed) ? inside : outside, values});
    };
    about_order("portion weight", pack.piece(), ordered.portion, limits.weight);
    about_order("thickness", pack.steak.thickness, ordered.thickness, limits.thickness);

    const fat_readings fat =
        pack.section ? detail::fat_readings_of(*pack.section) : fat_readings{pack.steak.fat_cover, length{}};
    const auto about_fat = [&](const char* what, std::optional<length> found, const quantity_range<length>& allowed) {
        const tolerance_verdict verdict = !found                                   ? not_known
                                          : detail::within_limits(*found, allowed) ? inside
                                                                                   : outside;
        findings.push_back({what, verdict, found_and_allowed<length>{found, std::nullopt, allowed}});
    };
    if (limits.fat_cover) about_fat("mean fat cover", fat.mean, *limits.fat_cover);
    if (!limits.fat_at_one_point) return findings;
    std::optional<length> thickest = pack.thickest_fat;
    if (!thickest && pack.section) thickest = fat.thickest;
    // The thickest point is no thinner than the mean, which so may settle it.
    if (!thickest && !detail::within_limits(fat.mean, quantity_range<length>{length{}, limits.fat_at_one_point->max}))
        thickest = fat.mean;
    about_fat("fat at one point", thickest, *limits.fat_at_one_point);
    return findings;
}

namespace detail {

/// All findings in one word: outside if one is, otherwise not known if one is or if there is none, otherwise inside.
[[nodiscard]] inline tolerance_verdict verdict_of(const std::vector<tolerance_finding>& findings) {
    using enum tolerance_verdict;
    const auto any = [&](tolerance_verdict v) {
        return std::any_of(findings.begin(), findings.end(), [&](const auto& f) { return f.verdict == v; });
    };
    if (any(outside)) return outside;
    return findings.empty() || any(not_known) ? not_known : inside;
}

} // namespace detail

/// "inside", "outside" or "not known". Any verdict; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(tolerance_verdict verdict) {
    switch (verdict) {
    case tolerance_verdict::inside: return "inside";
    case tolerance_verdict::outside: return "outside";
    case tolerance_verdict::not_known: break;
    }
    return "not known";
}

} // namespace tranche
