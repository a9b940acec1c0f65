// Plans and settles 500 random loins and prints a digest of every mass and amount, one line for each loin model.
// SPDX-License-Identifier: BSL-1.0
#include <bit>
#include <cinttypes>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <functional>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include <tranche/cost/joint/joint_products.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/calibration/slice_calibrated.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/scanned_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/want/value_objective.hpp>

#include "loin/mesh_shapes.hpp"

namespace {

using namespace tranche;

/// Random whole numbers of a small unit, so that no sum is rounded before the library sees it.
class dice {
public:
    explicit dice(std::uint64_t seed) : random_(seed) {}

    [[nodiscard]] double whole(int low, int high) {
        return low + static_cast<double>(random_() % static_cast<std::uint64_t>(high - low + 1));
    }
    /// Between so many tenths of a millimetre, to the micrometre.
    [[nodiscard]] length tenths(int low, int high) { return whole(100 * low, 100 * high) / 1e6 * metre; }
    [[nodiscard]] fraction share(int low_percent, int high_percent) {
        return whole(10'000 * low_percent, 10'000 * high_percent) / 1e6;
    }
    [[nodiscard]] unit_price<usd> price(int low, int high) {
        return unit_price<usd>::from_value(whole(1000 * low, 1000 * high) / 1000.0);
    }

private:
    std::mt19937_64 random_;
};

/// FNV-1a (Fowler, Noll and Vo; RFC 9923) over the bytes of 64-bit numbers, the lowest first.
class digest {
public:
    void add(std::int64_t number) {
        for (int i = 0; i < 64; i += 8) value_ = (value_ ^ ((static_cast<std::uint64_t>(number) >> i) & 0xFFU)) * prime;
    }
    void add(micrograms m) { add(m.count); }
    void add(amount<usd> a) { add(a.minor); }
    void add(double number) { add(std::bit_cast<std::int64_t>(number)); }
    [[nodiscard]] std::uint64_t value() const { return value_; }

private:
    static constexpr std::uint64_t prime = 0x100000001b3U;
    std::uint64_t value_ = 0xcbf29ce484222325U;
};

face_shape random_shape(dice& d) {
    return {.fill = d.share(70, 100), .tail_depth = d.share(30, 50), .silverskin = d.tenths(0, 20)};
}

taped_readings random_readings(dice& d) {
    return {.width = d.tenths(1800, 2400),
            .depth = d.tenths(600, 900),
            .fat_cover = d.tenths(30, 150),
            .tail = d.tenths(0, 500)};
}

prism_loin random_prism(dice& d) {
    return {.length = d.tenths(3000, 4500), .face = random_readings(d), .shape = random_shape(d)};
}

tapered_loin random_tapered(dice& d) {
    return {.length = d.tenths(3000, 4500),
            .rib = random_readings(d),
            .sirloin = random_readings(d),
            .shape = random_shape(d)};
}

measured_loin random_measured(dice& d) {
    measured_loin loin{.length = d.tenths(3000, 4500), .shape = random_shape(d)};
    const int stations = static_cast<int>(d.whole(1, 5));
    for (int i = 0; i < stations; ++i) {
        const taped_readings r = random_readings(d);
        loin.stations.push_back({.at = d.tenths(600 * i, 600 * i + 500),
                                 .width = r.width,
                                 .depth = r.depth,
                                 .fat_cover = r.fat_cover,
                                 .tail = r.tail});
    }
    loin.gluteus_medius = {.onset = d.tenths(2200, 2900), .share_at_end = d.share(5, 50)};
    return loin;
}

/// Least and most, in tenths of a millimetre.
struct limits {
    int low, high;
};

/// A regular polygon, stretched, its corners on whole micrometres.
outline round_outline(dice& d, limits across, limits half_width, limits half_depth) {
    constexpr int corners = 36;
    const double middle = d.whole(100 * across.low, 100 * across.high);
    const double wide = d.whole(100 * half_width.low, 100 * half_width.high);
    const double deep = d.whole(100 * half_depth.low, 100 * half_depth.high);
    outline curve;
    for (int i = 0; i < corners; ++i) {
        const double turn = 2.0 * std::numbers::pi * i / corners;
        curve.points.push_back({length::from_value((middle + std::round(wide * std::cos(turn))) / 1e6),
                                length::from_value(std::round(deep * std::sin(turn)) / 1e6)});
    }
    return curve;
}

traced_loin random_traced(dice& d) {
    std::vector<traced_face> faces;
    const int count = static_cast<int>(d.whole(1, 3));
    for (int i = 0; i < count; ++i) {
        traced_face f{.at = d.tenths(1000 * i, 1000 * i + 900),
                      .whole = round_outline(d, {0, 0}, {800, 1000}, {350, 450}),
                      .eye = round_outline(d, {-20, 20}, {450, 520}, {230, 300})};
        if (d.whole(0, 1) > 0.0) f.tail = round_outline(d, {670, 690}, {80, 90}, {60, 90});
        faces.push_back(f);
    }
    return {d.tenths(3000, 4500), faces, d.tenths(0, 20)};
}

typical_loin random_typical(dice& d) {
    const loin_proportions* kinds[] = {&beef_strip_loin, &boneless_pork_loin, &lamb_loin, &tuna_loin};
    const loin_proportions& kind = *kinds[static_cast<std::size_t>(d.whole(0, 3))];
    return {kind.weight.value * d.share(85, 115), kind};
}

/// Along z, its corners on whole micrometres, and under a knife that is tilted.
scanned_loin random_scanned(dice& d) {
    const int rings = static_cast<int>(d.whole(6, 12));
    const double spacing = d.tenths(300, 400).value();
    std::vector<std::vector<mesh_point>> points;
    for (int r = 0; r < rings; ++r) {
        points.emplace_back();
        for (const outline_point& p : round_outline(d, {0, 0}, {800, 1000}, {350, 450}).points)
            points.back().push_back({p.across.value(), p.up.value(), r * spacing});
    }
    return {tranche_test::tube(points, {0.0, 0.0, 0.0}, {0.0, 0.0, (rings - 1) * spacing}),
            {.along = mesh_axis::z,
             .up = mesh_axis::y,
             .tilt = {.about_vertical = d.whole(-12, 12) * degree, .about_transverse = d.whole(-12, 12) * degree},
             .probes = {{.at = d.tenths(0, 500),
                         .fat_cover = d.tenths(30, 100),
                         .silverskin = d.tenths(0, 20),
                         .tail = d.tenths(0, 300)},
                        {.at = d.tenths(600, 1200), .fat_cover = d.tenths(30, 100), .tail = d.tenths(0, 300)}},
             .gluteus_medius = {.onset = d.tenths(1000, 1400), .share_at_end = d.share(5, 50)}}};
}

std::vector<cut_spec> random_cuts(dice& d) {
    return {{.name = "steak",
             .thickness = {d.tenths(180, 220), d.tenths(300, 400)},
             .trim = {.fat_cover = d.tenths(20, 80), .tail = d.tenths(100, 300), .over_cut = d.tenths(0, 20)},
             .kerf = d.tenths(0, 15)},
            {.name = "fillet",
             .thickness = {35.0 * millimetre, 60.0 * millimetre},
             .pieces = 2,
             .trim = {.fat_cover = length{}, .tail = length{}, .silverskin = false}},
            {.name = "end steak",
             .thickness = {20.0 * millimetre, 30.0 * millimetre},
             .gluteus_medius = any_gluteus_medius}};
}

/// What is counted, in micrograms and minor units, and the unrounded numbers that are behind it, to the last bit.
struct digests {
    digest counted, unrounded;
};

void add_plan(dice& d, const profile& meat, digests& sums) {
    auto& [sum, unrounded] = sums;
    for (const tissue t : all_tissues)
        for (const std::int64_t count : meat.cumulative(t)) sum.add(count);
    unrounded.add(meat.unrounded_total().value());
    for (std::size_t i = 0; i < meat.cells(); ++i) {
        unrounded.add(meat.position(i).value());
        unrounded.add(meat.gluteus_medius_share(i));
        unrounded.add(meat.fat_cover_within(i, 5.0 * millimetre));
        unrounded.add(meat.tail_within(i, 20.0 * millimetre));
    }

    const std::vector<cut_spec> cuts = random_cuts(d);
    price_list<usd> prices;
    joint_prices<usd> joint;
    for (const cut_spec& cut : cuts) {
        prices.portions[cut.name] = {.by_weight = d.price(8, 40),
                                     .each = money<usd>::from_value(d.whole(-100, 300) / 100.0)};
        joint.finished[cut.name] = {.by_weight = d.price(20, 40),
                                    .each = money<usd>::from_value(d.whole(0, 99) / 100.0)};
        joint.finishing[cut.name] = {.by_weight = d.price(1, 3),
                                     .each = money<usd>::from_value(d.whole(0, 99) / 100.0)};
    }
    joint.at_split_off = prices.portions;
    for (const destination to : all_destinations) prices.by_products[to] = d.price(0, 12);
    const cutting_rules rules{.facing = d.tenths(0, 100)};
    const cutting_problem problem(meat, cuts, rules);
    const cutting_plan planned =
        lay_out(meat, cuts, rules, best_path(problem, worth_objective(problem, prices)).stretches);
    for (const slab& s : planned.slabs) {
        unrounded.add(s.start.value());
        unrounded.add(s.thickness.value());
        sum.add(static_cast<std::int64_t>(s.kind));
        sum.add(static_cast<std::int64_t>(s.option));
        for (const tissue t : all_tissues) {
            sum.add(s.kept[t]);
            sum.add(s.trim[t]);
        }
        sum.add(s.cutting_loss);
    }

    const purchase<usd> bought{.weight = to_mass(meat.total()) * d.share(100, 103), .price = d.price(5, 30)};
    const bill<usd> settled = settle(planned, bought, prices);
    for (const yield_line<usd>& line : settled.test.lines) {
        sum.add(line.weight);
        sum.add(line.credit);
    }
    sum.add(settled.test.primary_value);
    unrounded.add(settled.test.unrounded_primary_value.value());
    for (const costed_portion<usd>& portion : settled.portions) sum.add(portion.cost);
    if (!settled.portions.empty())
        for (const joint_method method : {joint_method::physical_measure, joint_method::net_realisable_value})
            for (const auto& portion : share_joint_cost(planned, settled, joint, method).settled.portions)
                sum.add(portion.cost);

    const ready_cut<usd> ready{
        .name = "ready", .price = d.price(10, 40), .replaces = {"steak"}, .edible_share = d.share(60, 100)};
    const cutting_costs<usd> costs{.time = d.whole(10, 60) * minute,
                                   .pay = money<usd>::from_value(d.whole(12, 30)) / hour,
                                   .packaging = money<usd>::from_value(d.whole(1, 30) / 100.0),
                                   .freezing = d.price(0, 1),
                                   .frozen = d.share(0, 100)};
    const savings<usd> saved = make_or_buy(ready, planned, settled, {.prices = prices, .costs = costs});
    for (const savings_line<usd>& line : saved.lines) {
        sum.add(line.weight);
        sum.add(line.value);
    }
    sum.add(saved.net_saving);
    sum.add(saved.gross_saving);
    unrounded.add(saved.own_edible_share);
    unrounded.add(saved.terms.net_saving().value());
}

struct kind {
    const char* name;
    int loins;
    std::function<profile(dice&)> table;
};

profile on_a_grid(dice& d, const auto& model, int least_tenths) {
    return tabulate(model, d.tenths(least_tenths, 2 * least_tenths));
}

const std::vector<kind> kinds{
    {"prism", 85, [](dice& d) { return on_a_grid(d, random_prism(d), 20); }},
    {"tapered", 90, [](dice& d) { return on_a_grid(d, random_tapered(d), 20); }},
    {"measured", 110, [](dice& d) { return on_a_grid(d, random_measured(d), 20); }},
    {"typical", 70, [](dice& d) { return on_a_grid(d, random_typical(d), 20); }},
    {"calibrated", 60,
     [](dice& d) {
         const tapered_loin loin = random_tapered(d);
         const length step = d.tenths(20, 40);
         const mass weight = tabulate(loin, step).unrounded_total() * d.share(96, 100);
         return tabulate(calibrate(loin, weight, step), step);
     }},
    {"corrected", 60,
     [](dice& d) {
         return on_a_grid(
             d, slice_calibrated_loin<measured_loin>{random_measured(d), {d.share(90, 110), d.share(90, 110), 1.0}},
             20);
     }},
    {"traced", 8, [](dice& d) { return on_a_grid(d, random_traced(d), 40); }},
    {"slanted", 5,
     [](dice& d) {
         const cut_tilt tilt{d.whole(-20, 20) * degree, d.whole(-20, 20) * degree};
         return on_a_grid(d, slanted_loin(random_tapered(d), tilt), 60);
     }},
    {"scanned", 12, [](dice& d) { return on_a_grid(d, random_scanned(d), 60); }},
};

} // namespace

int main() {
    std::uint64_t seed = 0;
    for (const kind& k : kinds) {
        digests sums;
        for (int i = 0; i < k.loins; ++i) {
            dice d(++seed);
            add_plan(d, k.table(d), sums);
        }
        std::printf("%s: counted %016" PRIx64 ", unrounded %016" PRIx64 "\n", k.name, sums.counted.value(),
                    sums.unrounded.value());
    }
}
