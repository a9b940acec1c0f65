// What a ready-cut pack really costs: the price of the muscle that was wanted, the fat paid for, and packs in order.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <limits>
#include <numeric>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/cut/trim.hpp>
#include <tranche/packs/steak_pack.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// What is wanted of a pack, and what the rest of it is worth to whoever asks.
template <currency C>
struct pack_wishes {
    bool gluteus_medius = false; ///< whether the second muscle counts as wanted lean, beside the eye
    length fat_cover{};          ///< beyond it fat is excess; zero or more, `unlimited` for none
    length tail{};               ///< beyond it tail is excess; zero or more, `unlimited` for none
    /// What tissues that are not wanted lean are credited at: finite, zero unless named, negative for a cost of disposal.
    by_tissue<unit_price<C>> values{};

    friend bool operator==(const pack_wishes&, const pack_wishes&) = default;
};

/// With P paid for the pack, M the mass of its wanted lean and V the value of all other tissues at the caller's prices:
/// - `per_wanted` = P / M, what the wanted lean cost if the rest is worth nothing;
/// - `per_wanted_credited` = (P - V) / M.
/// Both are none where there is no wanted lean. Excess is the share of a layer beyond the depth wished for; it was paid for
/// at the price of the pack.
template <currency C>
struct pack_appraisal {
    steak_pack<C> pack{};
    pack_contents contents{};
    amount<C> paid{};
    micrograms wanted{}; ///< lean
    micrograms excess_fat{}, excess_tail{};
    amount<C> paid_for_excess_fat{}, paid_for_excess_tail{};
    std::optional<unit_price<C>> per_wanted{}, per_wanted_credited{};

    /// Fat cover / weight of the pack. By mass, 0 to 1. Throws nothing: a pack weighs more than zero.
    [[nodiscard]] fraction fat_share() const { return share(contents.masses[tissue::fat_cover]); }
    /// Gluteus medius / weight of the pack. By mass, 0 to 1; throws nothing.
    [[nodiscard]] fraction gluteus_medius_share() const { return share(contents.masses[tissue::gluteus_medius]); }
    /// Wanted lean / weight of the pack, by mass, 0 to 1; throws nothing.
    [[nodiscard]] fraction wanted_share() const { return share(wanted); }

    friend bool operator==(const pack_appraisal&, const pack_appraisal&) = default;

private:
    [[nodiscard]] fraction share(micrograms part) const { return to_mass(part) / pack.weight; }
};

/// Appraises one pack. Throws `invalid_input` for a pack that is not valid (with its name before the field) and for
/// wishes that are negative or not finite. O(1). Depths in metres, values money by mass of any sign; amounts are in
/// minor units, rounded as `how` says. The face is that of `steak_face`.
template <currency C>
[[nodiscard]] pack_appraisal<C> appraise(const steak_pack<C>& pack, const pack_wishes<C>& wishes = {},
                                         rounding how = rounding::half_even,
                                         const steak_shape& shape = shape_of_steaks(beef_strip_loin),
                                         const tissue_densities& densities = densities_at_4_celsius()) {
    const trim_spec wished{.fat_cover = wishes.fat_cover, .tail = wishes.tail};
    validate(wished, "wishes.");
    for (const tissue t : all_tissues)
        if (!std::isfinite(wishes.values[t].value()))
            throw invalid_input("wishes.values: " + std::string(name_of(t)), detail::shown(wishes.values[t].value()),
                                "a finite value");
    pack_appraisal<C> result;
    result.pack = pack;
    result.contents = detail::contents_of(pack, shape, densities);
    const by_tissue<micrograms>& masses = result.contents.masses;
    result.paid = rounded<C>(pack.bought().cost(), how, "price of the pack");
    result.wanted = masses[tissue::eye] + (wishes.gluteus_medius ? masses[tissue::gluteus_medius] : micrograms{});

    const auto beyond = [&](tissue t) {
        return to_micrograms(to_mass(masses[t]) * (1.0 - detail::share_left(t, wished, result.contents.face)));
    };
    result.excess_fat = beyond(tissue::fat_cover);
    result.excess_tail = beyond(tissue::tail);
    result.paid_for_excess_fat = rounded<C>(to_mass(result.excess_fat) * pack.price, how);
    result.paid_for_excess_tail = rounded<C>(to_mass(result.excess_tail) * pack.price, how);

    if (result.wanted.count > 0) {
        money<C> credit{};
        for (const tissue t : all_tissues) {
            const bool wanted = t == tissue::eye || (t == tissue::gluteus_medius && wishes.gluteus_medius);
            if (!wanted) credit += detail::unfused(to_mass(masses[t]) * wishes.values[t]);
        }
        result.per_wanted = pack.bought().cost() / to_mass(result.wanted);
        result.per_wanted_credited = (pack.bought().cost() - credit) / to_mass(result.wanted);
    }
    return result;
}

/// All packs, the cheapest wanted lean first, by the price with credits. A price counts as equal to the next lower one
/// if it is no more than a millionth of a minor unit per kilogram above it, where only rounding noise differs; then the
/// pack with less excess fat comes first, then the name, then the place in `packs`. Packs without wanted lean come
/// last. Throws as `appraise`. O(n log n). Prices are money by mass.
template <currency C>
[[nodiscard]] std::vector<pack_appraisal<C>> rank_packs(const std::vector<steak_pack<C>>& packs,
                                                        const pack_wishes<C>& wishes = {},
                                                        rounding how = rounding::half_even,
                                                        const steak_shape& shape = shape_of_steaks(beef_strip_loin),
                                                        const tissue_densities& densities = densities_at_4_celsius()) {
    std::vector<pack_appraisal<C>> all, result;
    for (const steak_pack<C>& pack : packs) all.push_back(appraise<C>(pack, wishes, how, shape, densities));
    const auto price = [&](std::size_t i) {
        return all[i].per_wanted_credited ? all[i].per_wanted_credited->value()
                                          : std::numeric_limits<double>::infinity();
    };
    std::vector<std::size_t> order(all.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return price(a) < price(b); });
    // Rounding each price by itself would part two that are equal but for noise about the border between two roundings.
    const auto dearer = [&](std::size_t a, std::size_t b) {
        return price(b) > price(a) + 1e-6 / static_cast<double>(detail::minor_units_in_one<C>());
    };
    for (auto first = order.begin(); first != order.end();) {
        auto last = std::next(first);
        while (last != order.end() && !dearer(*std::prev(last), *last)) ++last;
        std::sort(first, last, [&](std::size_t a, std::size_t b) {
            return std::tie(all[a].excess_fat, all[a].pack.name, a) < std::tie(all[b].excess_fat, all[b].pack.name, b);
        });
        first = last;
    }
    for (const std::size_t i : order) result.push_back(std::move(all[i]));
    return result;
}

} // namespace tranche
