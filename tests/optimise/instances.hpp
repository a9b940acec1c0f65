// Random requests for the optimiser's tests: invented loins, cuts and rules, the same for a seed on every platform.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>

#include "support/catch.hpp"

/// How a failed check shows a stretch: "0-5 spec 1".
template <>
struct Catch::StringMaker<tranche::grid_slab> {
    static std::string convert(const tranche::grid_slab& s) {
        return std::to_string(s.from) + '-' + std::to_string(s.to) +
               (s.kind == tranche::slab_kind::portions ? " spec " : " loose ") + std::to_string(s.option);
    }
};

namespace tranche_test {

using namespace tranche;

/// Runs longer when the environment asks for it: twenty times, or so many rounds at the least.
[[nodiscard]] inline std::uint64_t rounds(std::uint64_t normal, std::uint64_t at_least_then = 0) {
    return std::getenv("TRANCHE_LONG_TESTS") == nullptr ? normal : std::max(20 * normal, at_least_then);
}
/// Random instances of an oracle that looks at every tiling, in the long run.
inline constexpr std::uint64_t many_instances = 10'000;

/// Numbers by SplitMix64 (Steele, Lea and Flood 2014), spread without the distributions of the standard library, which
/// differ between platforms.
class dice {
public:
    explicit dice(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15U + 1) {}

    [[nodiscard]] std::uint64_t bits() {
        std::uint64_t z = state_ += 0x9E3779B97F4A7C15U;
        z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9U;
        z = (z ^ (z >> 27U)) * 0x94D049BB133111EBU;
        return z ^ (z >> 31U);
    }
    /// low <= x < high
    [[nodiscard]] double between(double low, double high) {
        return low + (high - low) * static_cast<double>(bits() >> 11U) * 0x1p-53;
    }
    /// low <= n <= high
    [[nodiscard]] std::size_t whole(std::size_t low, std::size_t high) { return low + bits() % (high - low + 1); }
    /// True once in `n` on average.
    [[nodiscard]] bool once_in(std::uint64_t n) { return bits() % n == 0; }

private:
    std::uint64_t state_;
};

/// A model of a user's own: rough areas that no interpolation explains, with a second muscle that comes and goes.
struct rough_loin {
    tranche::length length{};
    std::uint64_t seed = 0;
    bool second_muscle = false;

    [[nodiscard]] tranche::length extent() const { return length; }
    [[nodiscard]] tranche::face face_at(tranche::length at) const {
        dice d(seed + static_cast<std::uint64_t>(at / millimetre * 16.0));
        const auto cm2 = [&](double low, double high) { return d.between(low, high) * (centimetre * centimetre); };
        tranche::face f;
        f.areas[tissue::eye] = cm2(30, 90);
        if (second_muscle && d.once_in(3)) f.areas[tissue::gluteus_medius] = cm2(0, 30);
        f.areas[tissue::fat_cover] = cm2(0, 15);
        f.areas[tissue::tail] = cm2(0, 10);
        f.areas[tissue::connective] = cm2(0, 5);
        f.fat_cover = {d.between(2, 12) * millimetre};
        f.tail = {d.between(5, 60) * millimetre};
        return f;
    }
};

[[nodiscard]] inline taped_readings random_readings(dice& d) {
    return {.width = d.between(13, 18) * centimetre,
            .depth = d.between(5, 8) * centimetre,
            .fat_cover = d.once_in(4) ? length{} : d.between(0.2, 1.5) * centimetre,
            .tail = d.once_in(4) ? length{} : d.between(0.5, 6.0) * centimetre};
}

/// A profile with about `cells` cells of `step`, from one of three kinds of model.
[[nodiscard]] inline profile random_profile(dice& d, std::size_t cells, length step) {
    const double last_cell = d.once_in(3) ? 1.0 : d.between(0.05, 1.0);
    const length extent = (static_cast<double>(cells - 1) + last_cell) * step;
    const face_shape shape{.silverskin = d.once_in(2) ? length{} : 1.5 * millimetre};
    switch (d.whole(0, 2)) {
    case 0: {
        measured_loin loin{.length = extent, .shape = shape};
        const std::size_t stations = d.whole(1, 4);
        for (std::size_t i = 0; i < stations; ++i) {
            const taped_readings r = random_readings(d);
            loin.stations.push_back({.at = extent * (static_cast<double>(i) + 0.5) / static_cast<double>(stations),
                                     .width = r.width,
                                     .depth = r.depth,
                                     .fat_cover = r.fat_cover,
                                     .tail = r.tail});
        }
        if (d.once_in(2))
            loin.gluteus_medius = {.onset = d.between(0.0, 0.95) * extent, .share_at_end = d.between(0.0, 1.0)};
        return tabulate(loin, step);
    }
    case 1:
        return tabulate(
            tapered_loin{.length = extent, .rib = random_readings(d), .sirloin = random_readings(d), .shape = shape},
            step);
    default: return tabulate(rough_loin{extent, d.bits() % 1000, d.once_in(2)}, step);
    }
}

[[nodiscard]] inline trim_spec random_trim(dice& d) {
    trim_spec trim;
    if (d.once_in(2)) trim.fat_cover = d.between(0, 10) * millimetre;
    if (d.once_in(2)) trim.tail = d.between(0, 50) * millimetre;
    trim.silverskin = d.once_in(2);
    return trim;
}

/// Thickness between the two numbers of steps, or a single one; about one in two has weight limits that bite.
[[nodiscard]] inline cut_spec random_spec(dice& d, const profile& meat, const std::string& name, double least_steps,
                                          double most_steps) {
    cut_spec spec{.name = name};
    const length step = meat.step();
    const double thin = d.between(least_steps, most_steps);
    spec.thickness = {thin * step, d.between(thin, most_steps) * step};
    if (d.once_in(4)) spec.thickness = thin * step;
    if (d.once_in(4)) spec.thickness = std::max(1.0, std::floor(thin)) * step;
    spec.pieces = d.once_in(2) ? 1 : static_cast<int>(d.whole(1, 3));
    spec.trim = random_trim(d);
    if (d.once_in(2)) {
        const double cell = to_mass(meat.total()) / gram / static_cast<double>(meat.cells());
        const double low = d.between(0.4 * least_steps, most_steps) * cell / spec.pieces;
        spec.portion.min = low * gram;
        if (!d.once_in(4)) spec.portion.max = d.between(low, 1.5 * most_steps * cell / spec.pieces + low) * gram;
    }
    const gluteus_medius_rule rules[] = {any_gluteus_medius, no_gluteus_medius, on_one_face, gluteus_medius_up_to(0.3)};
    spec.gluteus_medius = rules[d.whole(0, 3)];
    if (d.once_in(2)) {
        const double kerfs[] = {0.25, 0.4, 1.0, d.between(0.01, 1.4)};
        spec.kerf = kerfs[d.whole(0, 3)] * step;
    }
    return spec;
}

[[nodiscard]] inline cutting_rules random_rules(dice& d, const profile& meat, double most_loose) {
    cutting_rules rules;
    if (d.once_in(2)) rules.facing = d.between(0.0, std::min(2.5 * meat.step(), 0.9 * meat.extent()).value()) * metre;
    rules.loose.clear();
    const std::size_t count = d.whole(1, 2);
    for (std::size_t i = 0; i < count; ++i)
        rules.loose.push_back({.goes_to = all_destinations[d.whole(0, 4)],
                               .trim = random_trim(d),
                               .least_thickness = d.between(0.0, most_loose) * meat.step()});
    return rules;
}

/// A request that a plan can be asked for.
struct request {
    profile meat;
    std::vector<cut_spec> specs;
    cutting_rules rules;
};

/// As the library reads it, so that an oracle compares the same lengths.
inline void snap(request& r) {
    r.specs = detail::snapped(cut_list(std::move(r.specs)));
    r.rules = detail::snapped(std::move(r.rules));
}

/// One to three cuts of one to five steps on a loin of `least` to `most` cells.
[[nodiscard]] inline request random_request(dice& d, std::size_t least, std::size_t most) {
    const length step = detail::snapped(d.between(2.0, 25.0) * millimetre);
    request r{random_profile(d, d.whole(least, most), step), {}, {}};
    const std::size_t specs = d.whole(1, 3);
    for (std::size_t i = 0; i < specs; ++i)
        r.specs.push_back(random_spec(d, r.meat, std::string("cut ") + static_cast<char>('A' + i), 0.6, 5.0));
    r.rules = random_rules(d, r.meat, 4.0);
    snap(r);
    return r;
}

/// Further limits on single slabs, for some of the specs: zones, notches and a least remnant.
inline void add_limits(dice& d, request& r) {
    const double step = r.meat.step().value(), extent = r.meat.extent().value();
    for (cut_spec& spec : r.specs) {
        if (d.once_in(3)) {
            double from = std::max(d.between(-0.3, 0.6) * extent, 0.0);
            if (d.once_in(3)) from = std::round(from / step) * step;
            spec.zone = {from * metre, std::max(from, d.between(from, 1.1 * extent)) * metre};
            if (d.once_in(3)) spec.zone.max = unlimited<length>();
        }
        if (d.once_in(3)) spec.thickness_step = static_cast<double>(d.whole(1, 3)) * r.meat.step();
    }
    if (d.once_in(2)) r.rules.remnant.thickness = d.between(0.0, 5.0) * r.meat.step();
    if (d.once_in(3)) r.rules.remnant.weight = d.between(0.0, 0.4) * to_mass(r.meat.total());
    snap(r);
}

/// Cuts that are pinned, and stretches that are kept whole; some of the places lie on positions of the grid.
inline void add_places(dice& d, request& r) {
    const double step = r.meat.step().value(), extent = r.meat.extent().value(), facing = r.rules.facing.value();
    const auto place = [&](double low, double high) {
        const double at = d.between(low, high);
        return d.once_in(2) ? std::clamp(std::round(at / step) * step, low, high) : at;
    };
    const double behind_facing = std::min(std::ceil(facing / step - 1e-9) * step, extent);
    for (std::size_t i = d.whole(0, 2); i > 0; --i) {
        const double from = place(behind_facing, extent);
        r.rules.kept_whole.push_back({from * metre, place(from, extent + step) * metre});
        if (d.once_in(4)) r.rules.kept_whole.back().max = unlimited<length>();
    }
    for (std::size_t i = d.whole(0, 3); i > 0; --i) {
        length at = detail::snapped(place(behind_facing, extent) * metre);
        for (const quantity_range<length>& stretch : r.rules.kept_whole)
            if (detail::is_inside(at, detail::snapped(stretch))) at = detail::snapped(stretch.min);
        const auto outside = [&](const quantity_range<length>& s) {
            return !detail::is_inside(at, detail::snapped(s));
        };
        if (std::all_of(r.rules.kept_whole.begin(), r.rules.kept_whole.end(), outside)) r.rules.cut_at.push_back(at);
    }
    snap(r);
}

/// Rules on where loose meat may lie; some ends of zones lie on positions of the grid.
inline void add_loose_rules(dice& d, request& r) {
    const double step = r.meat.step().value(), extent = r.meat.extent().value();
    for (loose_cut& loose : r.rules.loose) {
        const loose_place places[] = {loose_place::anywhere, loose_place::ends, loose_place::nowhere};
        loose.place = places[d.whole(0, 2)];
        if (!d.once_in(3)) continue;
        const double from = d.once_in(2) ? 0.0 : d.between(0.0, 0.7) * extent;
        loose.zone = {d.once_in(2) ? std::round(from / step) * step * metre : from * metre, unlimited<length>()};
        if (d.once_in(2)) loose.zone.max = std::max(loose.zone.min, d.between(0.2, 1.1) * r.meat.extent());
    }
    r.rules.remnant.required = d.once_in(4);
    snap(r);
}

/// Further limits that link slabs: an order of two cuts, cuts of one thickness.
inline void add_links(dice& d, request& r) {
    if (r.specs.size() > 1 && !d.once_in(3)) {
        const std::size_t first = d.whole(0, r.specs.size() - 1), then = (first + 1) % r.specs.size();
        r.rules.order.push_back({r.specs[first].name, r.specs[then].name});
        if (r.specs.size() > 2 && d.once_in(2))
            r.rules.order.push_back({r.specs[first].name, r.specs[(first + 2) % 3].name});
    }
    for (cut_spec& spec : r.specs) spec.one_thickness = d.once_in(2);
}

/// A request of the size people have: `least` to `most` cells of about 1 mm to 5 mm, one to three cuts of several cells.
[[nodiscard]] inline request request_of_size(dice& d, std::size_t least, std::size_t most) {
    const length step = detail::snapped(d.between(1.0, 5.0) * millimetre);
    request r{random_profile(d, d.whole(least, most), step), {}, {}};
    const std::size_t specs = d.whole(1, 3);
    for (std::size_t i = 0; i < specs; ++i)
        r.specs.push_back(random_spec(d, r.meat, std::string("cut ") + static_cast<char>('A' + i), 3.0, 25.0));
    r.rules = random_rules(d, r.meat, 8.0);
    snap(r);
    return r;
}

/// Any separable objective with its formula hidden, so that the engine looks at every slab.
template <separable_objective O>
struct as_whole_slabs {
    using score_type = typename O::score_type;
    O inner;

    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        return slab_score(inner, o, from, to);
    }
};
static_assert(!separable_objective<as_whole_slabs<kept_mass_objective>>);

/// Invented prices, some of them a cost of disposal.
[[nodiscard]] inline price_list<usd> random_prices(dice& d, const std::vector<cut_spec>& specs) {
    const auto per_kilogram = [](double x) { return unit_price<usd>::from_value(x); };
    price_list<usd> prices;
    for (const cut_spec& spec : specs) {
        auto& price = prices.portions[spec.name];
        price.by_weight = per_kilogram(d.between(5.0, 40.0));
        if (d.once_in(2)) price.each = money<usd>::from_value(d.between(-2.0, 5.0));
    }
    for (const destination to : all_destinations) prices.by_products[to] = per_kilogram(d.between(-1.0, 8.0));
    return prices;
}

/// Of up to three portions each, for about two specs in three.
inline std::vector<demand> some_demands(dice& d, const request& r) {
    std::vector<demand> demands;
    for (std::size_t i = 0; i < r.specs.size(); ++i) {
        const auto low = static_cast<std::int64_t>(d.whole(0, 2));
        if (!d.once_in(3)) demands.push_back({.spec = i, .at_least = low, .at_most = low + 1});
    }
    return demands;
}

/// A loin of so many steps of a coarse grid, and one or two cuts whose limits lie on it, so that a coarse plan is one on a
/// finer grid as well; the windows are up to `most_steps` wide.
inline request request_on_coarse_grid(dice& d, std::size_t least_cells, std::size_t most_cells,
                                      std::size_t most_steps) {
    const length step = detail::snapped(d.between(3.0, 10.0) * millimetre);
    request r{random_profile(d, d.whole(least_cells, most_cells), step), {}, {}};
    const std::size_t specs = d.whole(1, 2);
    for (std::size_t i = 0; i < specs; ++i) {
        r.specs.push_back(random_spec(d, r.meat, std::string("cut ") + static_cast<char>('A' + i), 3.0, 9.0));
        cut_spec& spec = r.specs.back();
        spec.thickness.min = std::round(spec.thickness.min / step) * step;
        spec.thickness.max = spec.thickness.min + static_cast<double>(d.whole(1, most_steps)) * step;
        spec.kerf = {};
    }
    return r;
}

} // namespace tranche_test
