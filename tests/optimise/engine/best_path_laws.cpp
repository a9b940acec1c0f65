// What an optimal tiling has to stand: its slabs exchanged, and its loin turned around.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>
#include <tranche/optimise/want/value_objective.hpp>

#include "optimise/instances.hpp"

namespace best_path_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

std::size_t option_of(const cutting_problem& problem, const grid_slab& s) {
    return s.option + (s.kind == slab_kind::portions ? problem.loose_count() : 0);
}

/// Faces every half millimetre, in random areas that are whole multiples of 6 mm²; with all densities at 1 mg/mm³, Simpson's
/// rule then gives each cell of 1 mm a whole number of milligrams of each tissue, and no microgram is rounded.
struct whole_milligrams {
    std::vector<face> faces;

    static whole_milligrams random(dice& d, std::size_t cells) {
        whole_milligrams loin;
        for (std::size_t i = 0; i <= 2 * cells; ++i) {
            const auto area = [&](std::size_t low, std::size_t high) {
                return 6.0 * static_cast<double>(d.whole(low, high)) * (millimetre * millimetre);
            };
            face& f = loin.faces.emplace_back();
            f.areas[tissue::eye] = area(500, 1500);
            f.areas[tissue::fat_cover] = area(0, 250);
            f.areas[tissue::tail] = area(0, 150);
            f.areas[tissue::connective] = area(0, 80);
            f.fat_cover = {d.between(2, 12) * millimetre};
            f.tail = {d.between(5, 60) * millimetre};
        }
        return loin;
    }
    [[nodiscard]] whole_milligrams turned_around() const { return {{faces.rbegin(), faces.rend()}}; }
    [[nodiscard]] tranche::length extent() const { return 0.5 * static_cast<double>(faces.size() - 1) * millimetre; }
    [[nodiscard]] face face_at(tranche::length at) const {
        return faces[static_cast<std::size_t>(std::lround(2.0 * (at / millimetre)))];
    }
    [[nodiscard]] profile tabulated() const {
        tissue_densities one = densities_at_4_celsius();
        for (const tissue t : all_tissues) one[t] = 1000.0 * kilogram_per_cubic_metre;
        return tabulate(*this, 1.0 * millimetre, one);
    }
};

/// Tilings of the highest score, up to two of them. Loose meat beside loose meat of the same cut counts as one piece.
template <objective O>
int best_tilings(const cutting_problem& problem, const O& objective) {
    using score_type = typename O::score_type;
    struct ways {
        std::optional<score_type> score{};
        int count = 0;
        void add(const score_type& s, int more) {
            if (score && s < *score) return;
            count = std::min(2, score && !(*score < s) ? count + more : more);
            score = s;
        }
    };
    std::vector<std::vector<ways>> table(problem.cells() + 1, std::vector<ways>(problem.loose_count() + 1)); // by last
    const std::size_t portions = problem.loose_count();
    table[problem.start()][portions] = {score_type{}, 1};
    for (std::size_t to = problem.start() + 1; to <= problem.cells(); ++to)
        for (std::size_t from = problem.start(); from < to; ++from)
            for (std::size_t o = 0; o < problem.option_count(); ++o) {
                if (!problem.allows(o, from, to)) continue;
                for (std::size_t last = 0; last <= portions; ++last)
                    if ((last != o || problem.is_portion(o)) && table[from][last].score)
                        table[to][std::min(o, portions)].add(
                            *table[from][last].score + slab_score(objective, o, from, to), table[from][last].count);
            }
    ways all;
    for (const ways& w : table[problem.cells()])
        if (w.score) all.add(*w.score, w.count);
    return all.count;
}

std::vector<grid_slab> in_one_piece(const std::vector<grid_slab>& slabs) {
    std::vector<grid_slab> merged;
    for (const grid_slab& s : slabs)
        if (!merged.empty() && s.kind == slab_kind::loose && merged.back().kind == s.kind &&
            merged.back().option == s.option)
            merged.back().to = s.to;
        else
            merged.push_back(s);
    return merged;
}

} // namespace

TEST_CASE("two neighbouring slabs of an optimal plan exchanged never score more") {
    std::size_t exchanged = 0, worse = 0;
    for (std::uint64_t seed = 0; seed < rounds(150); ++seed) {
        dice d(seed + 260'000);
        request r = request_of_size(d, 20, 200);
        if (d.once_in(2)) add_limits(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        const auto check = [&](const auto& objective) {
            const auto best = best_path(problem, objective);
            for (std::size_t i = 0; i + 1 < best.stretches.size(); ++i) {
                const grid_slab &a = best.stretches[i], &b = best.stretches[i + 1];
                const std::size_t one = option_of(problem, a), other = option_of(problem, b);
                const std::size_t middle = a.from + (b.to - b.from);
                if (!problem.allows(other, a.from, middle) || !problem.allows(one, middle, b.to)) continue;
                const auto as_it_is =
                    slab_score(objective, one, a.from, a.to) + slab_score(objective, other, b.from, b.to);
                const auto swapped =
                    slab_score(objective, other, a.from, middle) + slab_score(objective, one, middle, b.to);
                if (as_it_is < swapped) CHECK_FALSE(as_it_is < swapped);
                ++exchanged;
                worse += swapped < as_it_is;
            }
        };
        check(kept_mass_objective::portions_then_mass(problem));
        check(kept_mass_objective::mass_then_portions(problem));
        check(value_objective<usd>(problem, random_prices(d, r.specs)));
        check(lexicographic(portion_count_objective(problem), portion_mass_objective(problem)));
    }
    CHECK(exchanged > 1000);
    CHECK(worse > 100);
}

TEST_CASE("a loin turned around is cut for the same score, and at the mirrored places where only one plan has it") {
    // Where limits are the same from both ends: no facing, no kerf, no remnant, any gluteus medius, a whole last cell. Prices
    // are whole, so that no billionth is rounded.
    std::size_t unique = 0;
    for (std::uint64_t seed = 0; seed < rounds(100); ++seed) {
        dice d(seed + 270'000);
        const auto loin = whole_milligrams::random(d, d.whole(20, 70));
        request here{loin.tabulated(), {}, {}};
        for (const char* name : {"cut A", "cut B"})
            if (here.specs.empty() || d.once_in(2)) here.specs.push_back(random_spec(d, here.meat, name, 3.0, 20.0));
        for (cut_spec& spec : here.specs) {
            spec.kerf = {};
            spec.gluteus_medius = any_gluteus_medius;
        }
        here.rules.loose = {{.trim = random_trim(d), .least_thickness = d.between(0.0, 5.0) * millimetre}};
        price_list<usd> prices;
        const auto whole = [&](std::size_t low, std::size_t high) { return static_cast<double>(d.whole(low, high)); };
        for (const cut_spec& spec : here.specs)
            prices.portions[spec.name] = {.by_weight = unit_price<usd>::from_value(whole(5, 40)),
                                          .each = money<usd>::from_value(whole(0, 3))};
        for (const destination to : all_destinations) prices.by_products[to] = unit_price<usd>::from_value(whole(0, 8));
        const request there{loin.turned_around().tabulated(), here.specs, here.rules};
        const cutting_problem from_rib(here.meat, here.specs, here.rules),
            from_sirloin(there.meat, there.specs, there.rules);
        const std::size_t cells = from_rib.cells();
        CAPTURE(seed, cells);
        REQUIRE(here.meat.total() == there.meat.total());
        for (std::size_t i = 0; i <= cells; ++i)
            REQUIRE(here.meat.between(0, i) == there.meat.between(cells - i, cells));
        const auto check = [&](const auto& make) {
            const auto objective = make(from_rib), turned = make(from_sirloin);
            const auto best = best_path(from_rib, objective), image = best_path(from_sirloin, turned);
            CHECK(best.score == image.score);
            std::vector<grid_slab> mirrored;
            auto score = decltype(best.score){};
            for (const grid_slab& s : image.stretches) {
                mirrored.insert(mirrored.begin(), {cells - s.to, cells - s.from, s.kind, s.option});
                CHECK(from_rib.allows(option_of(from_rib, s), cells - s.to, cells - s.from));
                score = score + slab_score(objective, option_of(from_rib, s), cells - s.to, cells - s.from);
            }
            CHECK(score == best.score); // the mirrored plan is as good a plan
            if (best_tilings(from_rib, objective) > 1) return;
            ++unique;
            CHECK(in_one_piece(mirrored) == in_one_piece(best.stretches));
        };
        check([](const cutting_problem& p) { return kept_mass_objective::portions_then_mass(p); });
        check([](const cutting_problem& p) { return kept_mass_objective::mass_then_portions(p); });
        check([&](const cutting_problem& p) { return value_objective<usd>(p, prices); });
        CHECK(least_waste(here.meat, here.specs, here.rules).score() ==
              least_waste(there.meat, there.specs, there.rules).score());
        CHECK(best_value(here.meat, here.specs, prices, here.rules).score() ==
              best_value(there.meat, there.specs, prices, there.rules).score());
    }
    CHECK(unique > 50);
}

} // namespace best_path_laws
