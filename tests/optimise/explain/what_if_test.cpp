// What single limits would have to be, on invented prisms where it can be worked out by hand.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cut/plan_worth.hpp>
#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/literals.hpp>

namespace what_if_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

using kind = request_limit::kind;

constexpr auto by_count = [](const cutting_problem& problem) {
    return kept_mass_objective::portions_then_mass(problem);
};

// Invented: 80 % of 16 × 7 cm is 89.6 cm² of lean, 94.83 g of it a centimetre.
profile prism() { return tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm); }

const limit_change* find(const std::vector<limit_change>& changes, kind what) {
    for (const limit_change& change : changes)
        if (change.which.what == what) return &change;
    return nullptr;
}
const limit_cost* find(const std::vector<limit_cost>& costs, kind what) {
    for (const limit_cost& cost : costs)
        if (cost.which.what == what) return &cost;
    return nullptr;
}
double in_mm(const limit_value& value) { return std::get<length>(value) / millimetre; }

/// A box 20 cm long, all layers even: 80 cm² of lean, 12 mm of fat cover on 15 cm, a tail of 50 mm by 2 cm.
struct box_loin {
    [[nodiscard]] tranche::length extent() const { return 20_cm; }
    [[nodiscard]] face face_at(tranche::length) const {
        constexpr area square_centimetre = centimetre * centimetre;
        face f;
        f.areas[tissue::eye] = 80.0 * square_centimetre;
        f.areas[tissue::fat_cover] = 18.0 * square_centimetre;
        f.areas[tissue::tail] = 10.0 * square_centimetre;
        f.fat_cover = {12_mm};
        f.tail = {50_mm};
        return f;
    }
};
/// What a slab of the box weighs with so much fat cover and tail left on it.
mass of_box(tranche::length thickness, double fat_mm, double tail_mm) {
    const tissue_densities rho = densities_at_4_celsius();
    const auto square_centimetres = [](double number) { return number * (centimetre * centimetre); };
    return thickness *
           (square_centimetres(80.0) * rho[tissue::eye] + square_centimetres(1.5 * fat_mm) * rho[tissue::fat_cover] +
            square_centimetres(0.2 * tail_mm) * rho[tissue::tail]);
}

/// Lean of 100 cm² in front of 10 cm and of 50 cm² behind.
struct stepped_loin {
    [[nodiscard]] tranche::length extent() const { return 20_cm; }
    [[nodiscard]] face face_at(tranche::length at) const {
        face f;
        f.areas[tissue::eye] = (at < 10_cm ? 100.0 : 50.0) * (centimetre * centimetre);
        return f;
    }
    [[nodiscard]] volume volume_before(tranche::length at) const {
        return (centimetre * centimetre) * (50.0 * at + 50.0 * std::min<tranche::length>(at, 10_cm));
    }
};

/// Counts nothing but the slabs of portions, as a score that is no number.
struct slabs_of_portions {
    struct score_type {
        int slabs = 0;
        bool operator==(const score_type&) const = default;
        friend bool operator<(const score_type& a, const score_type& b) { return a.slabs < b.slabs; }
        friend score_type operator+(const score_type& a, const score_type& b) { return {a.slabs + b.slabs}; }
        friend bool is_finite(const score_type&) { return true; }
    };
    const cutting_problem& problem;
    [[nodiscard]] score_type opening(std::size_t, std::size_t) const { return {}; }
    [[nodiscard]] score_type closing(std::size_t option, std::size_t) const { return {problem.is_portion(option)}; }
};

/// Portions, and grams that are not finite where slabs are thicker than so many cells: a lexicographic score, no number.
template <class Grams>
struct portions_then_grams {
    using score_type = lexicographic_score<std::int64_t, Grams>;
    const cutting_problem& problem;
    std::size_t most_cells;
    double bad;
    [[nodiscard]] score_type slab(std::size_t option, std::size_t from, std::size_t to) const {
        if (!problem.is_portion(option)) return {};
        const double grams =
            to - from > most_cells ? bad : 1e-6 * static_cast<double>(problem.weight(option, from, to));
        return {{problem.pieces(option), Grams{grams}}};
    }
    [[nodiscard]] score_type loose_opening(std::size_t, std::size_t) const { return {}; }
    [[nodiscard]] score_type loose_closing(std::size_t, std::size_t) const { return {}; }
};

/// A score type of a user's own.
struct own_score {
    double value_of_it = 0.0;
    bool operator==(const own_score&) const = default;
    friend bool operator<(const own_score& a, const own_score& b) { return a.value_of_it < b.value_of_it; }
    friend own_score operator+(const own_score& a, const own_score& b) { return {a.value_of_it + b.value_of_it}; }
    friend bool is_finite(const own_score& s) { return std::isfinite(s.value_of_it); }
};

} // namespace

TEST_CASE("no change is offered with which the objective is not finite, whatever the score's type") {
    const profile meat = prism();
    const auto by = [&]<class Grams>(Grams, double bad) {
        const auto make = [bad](const cutting_problem& p) { return portions_then_grams<Grams>{p, 40, bad}; };
        // 31 mm and less weigh no more than 300 g, so a thinner cut helps; slabs above 40 mm are not finite.
        const cutting_request heavy{
            .cuts = {{.name = "steak", .thickness = {38_mm, 40_mm}, .portion = {250_g, 300_g}}}};
        const auto changes = nearest_feasible(meat, heavy, make);
        REQUIRE(find(changes, kind::thickness_min) != nullptr);
        CHECK(find(changes, kind::thickness_max) == nullptr);
        const cutting_request wide{.cuts = {{.name = "steak", .thickness = {38_mm, 45_mm}}}};
        CHECK_FALSE(plan(meat, wide, make).feasible());
        for (const limit_change& change : nearest_feasible(meat, wide, make)) {
            CHECK(change.planned.feasible());
            CHECK(change.which.what == kind::portion_max); // light enough is thin enough
        }
        CHECK(one_more_portion(meat, wide, make).empty());
        CHECK(limit_costs(meat, wide, make).empty());
        const cutting_request narrow{.cuts = {{.name = "steak", .thickness = {38_mm, 40_mm}}}};
        REQUIRE(plan(meat, narrow, make).feasible());
        const auto costs = limit_costs(meat, narrow, make);
        const limit_cost* const thicker = find(costs, kind::thickness_max);
        REQUIRE(thicker != nullptr);
        CHECK(thicker->planned.stop == stop_reason::objective_not_finite);
        CHECK_FALSE(thicker->binds());
        CHECK(std::isnan(thicker->gain));
        CHECK(thicker->more_portions == 0);
        CHECK(thicker->more_in_portions == micrograms{});
    };
    for (const double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                             -std::numeric_limits<double>::infinity()}) {
        if (!forbids(bad)) by(double{}, bad);
        by(own_score{}, bad);
    }
}

TEST_CASE("an impossible request names the nearest change of each limit that helps, and of no other") {
    const profile meat = prism();
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {38_mm, 45_mm}, .portion = {250_g, 300_g}}}};
    const auto changes = nearest_feasible(meat, request, by_count);
    // 300 g are 31.6 mm, so a slab of 31 mm fits; the lightest, of 38 mm, weighs 360.37 g, so 360.4 g must be allowed.
    // Halved, slabs of 500 to 600 g would be 52.7 mm thick or more, and further pieces ask for thicker ones still.
    REQUIRE(changes.size() == 2);
    const limit_change* const thinner = find(changes, kind::thickness_min);
    REQUIRE(thinner != nullptr);
    CHECK_THAT(in_mm(thinner->from), WithinAbs(38.0, 1e-9));
    CHECK_THAT(in_mm(thinner->to), WithinAbs(31.0, 1e-9));
    CHECK(thinner->planned.feasible());
    CHECK(thinner->planned.plan.portion_count() == 6);
    CHECK_THAT(thinner->text,
               StartsWith("steak: least thickness 31 mm instead of 38 mm gives 6 portions, ")); // 6 × 31 of 200 mm
    const limit_change* const heavier = find(changes, kind::portion_max);
    REQUIRE(heavier != nullptr);
    CHECK_THAT(std::get<mass>(heavier->to) / gram, WithinAbs(360.4, 1e-9));
    CHECK(heavier->planned.plan.portion_count() == 5); // of 38 mm

    for (const limit_change& change : changes) {
        const cutting_request then = moved(request, change.which, change.to);
        CHECK(most_portions(meat, then.cuts, then.rules).feasible());
        CHECK(verify(change.planned.plan, meat, then.cuts, then.rules) == std::vector<std::string>{});
    }
    CHECK(one_more_portion(meat, request, by_count).empty());
    CHECK(limit_costs(meat, request, by_count).empty());
}

TEST_CASE("pieces help where a slab is too heavy for one plate") {
    const cutting_request request{.cuts = {{.name = "fillet", .thickness = {50_mm, 60_mm}, .portion = {150_g, 200_g}}}};
    // 50 to 60 mm weigh 474 to 569 g: three pieces of 158 to 190 g; two would weigh 237 g or more.
    const auto changes = nearest_feasible(prism(), request, by_count);
    const limit_change* const pieces = find(changes, kind::pieces);
    REQUIRE(pieces != nullptr);
    CHECK(std::get<std::int64_t>(pieces->to) == 3);
    CHECK(pieces->planned.plan.portion_count() == 12); // 200 mm in four slabs of 50 mm
}

TEST_CASE("one more portion needs the thickness that the loin has for it") {
    // 195 mm behind the facing: six slabs of 28 mm or more; seven are at most 27.86 mm each, 27 mm on the grid.
    // Without one millimetre of the facing there are 196 mm, seven times 28.
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {28_mm, 40_mm}}}, .rules = {.facing = 5_mm}};
    const profile meat = prism();
    const auto changes = one_more_portion(meat, request, by_count);
    const limit_change* const thinner = find(changes, kind::thickness_min);
    REQUIRE(thinner != nullptr);
    CHECK_THAT(in_mm(thinner->to), WithinAbs(27.0, 1e-9));
    CHECK(thinner->planned.plan.portion_count() == 7);
    const limit_change* const facing = find(changes, kind::facing);
    REQUIRE(facing != nullptr);
    CHECK_THAT(in_mm(facing->to), WithinAbs(4.0, 1e-9));
    CHECK_THAT(facing->text, StartsWith("whole loin: facing 4 mm instead of 5 mm gives 7 portions, "));
    CHECK(find(changes, kind::pieces) != nullptr); // halves are more than wholes
    CHECK(changes.size() == 3);
    CHECK(nearest_feasible(meat, request, by_count).empty());
}

TEST_CASE("values of changes lie on the steps asked for") {
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {28_mm, 40_mm}}}, .rules = {.facing = 5_mm}};
    const auto changes = one_more_portion(prism(), request, by_count, {.thickness = 1.0 / 16.0 * inch});
    const limit_change* const thinner = find(changes, kind::thickness_min);
    REQUIRE(thinner != nullptr); // 27 mm are 17.007 sixteenths: the next step down is 17
    CHECK_THAT(std::get<length>(thinner->to) / inch, WithinAbs(17.0 / 16.0, 1e-12));
    CHECK_THROWS_AS(one_more_portion(prism(), request, by_count, {.thickness = 0_mm}), invalid_input);
    CHECK_THROWS_AS(limit_costs(prism(), request, by_count, {.portion = -1.0_g}), invalid_input);
}

TEST_CASE("a spec that gives nothing beside one that does has changes of its own") {
    const cutting_request request{
        .cuts = {{.name = "steak", .thickness = {25_mm, 30_mm}}, {.name = "roast", .thickness = {21_cm, 25_cm}}}};
    const profile meat = prism();
    CHECK(nearest_feasible(meat, request, by_count).empty());
    const auto changes = nearest_portion_of(meat, request, 1);
    REQUIRE(changes.size() == 1);
    CHECK(changes[0].which == request_limit{kind::thickness_min, 1});
    CHECK_THAT(in_mm(changes[0].to), WithinAbs(200.0, 1e-9)); // the whole loin
    CHECK(nearest_portion_of(meat, request, 0).empty());
    CHECK_THROWS_AS(nearest_portion_of(meat, request, 2), invalid_input);
}

TEST_CASE("the rule for the second muscle says what share would let one more slice through") {
    const profile meat = tabulate(measured_loin{.length = 40_cm,
                                                .stations = {{0_cm, 16_cm, 7_cm}, {40_cm, 16_cm, 7_cm}},
                                                .gluteus_medius = {.onset = 30_cm, .share_at_end = 0.4}},
                                  1_mm);
    const cutting_request request{.cuts = {{.name = "steak", .thickness = 3_cm, .gluteus_medius = no_gluteus_medius}}};
    // Ten slices lie in front of the onset; the eleventh ends at 33 cm. Both faces of the twelfth would show some.
    CHECK(plan(meat, request, by_count).plan.portion_count() == 10);
    const auto changes = one_more_portion(meat, request, by_count);
    const limit_change* const share = find(changes, kind::gluteus_medius_towards_sirloin);
    REQUIRE(share != nullptr);
    const double there = meat.gluteus_medius_entered()[330];
    CHECK(std::get<fraction>(share->to) >= there);
    CHECK(std::get<fraction>(share->to) < there + 0.001);
    const limit_change* const both = find(changes, kind::gluteus_medius_towards_rib);
    REQUIRE(both != nullptr); // the other face comes with it
    CHECK(both->to == share->to);
}

TEST_CASE("demands are limits too") {
    const profile meat = prism();
    cutting_request request{.cuts = {{.name = "steak", .thickness = {30_mm, 40_mm}}}, .demands = {at_most(4, "steak")}};
    auto changes = one_more_portion(meat, request, by_count);
    REQUIRE(find(changes, kind::at_most) != nullptr);
    CHECK(find(changes, kind::at_most)->to == limit_value{std::int64_t{5}});
    CHECK(find(changes, kind::thickness_min) == nullptr); // no thinner slab is a fifth one

    request.demands = {at_least(7, "steak")}; // 200 mm give six of 30 mm, and seven of 28 mm
    changes = nearest_feasible(meat, request, by_count);
    REQUIRE(find(changes, kind::at_least) != nullptr);
    CHECK(find(changes, kind::at_least)->to == limit_value{std::int64_t{6}});
    REQUIRE(find(changes, kind::thickness_min) != nullptr);
    CHECK_THAT(in_mm(find(changes, kind::thickness_min)->to), WithinAbs(28.0, 1e-9));
}

TEST_CASE("the facing costs what its meat is worth more as steak") {
    // Slabs of any thickness, so that all behind the facing is steak at 36 USD/kg; the facing is grind at 9 USD/kg.
    const profile meat = prism();
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {10_mm, 100_mm}}}, .rules = {.facing = 8_mm}};
    price_list<usd> prices{.portions = {{"steak", {.by_weight = 36_usd / 1_kg}}}};
    prices.by_products[destination::grind] = 9_usd / 1_kg;
    const auto costs =
        limit_costs(meat, request, [&](const cutting_problem& p) { return value_objective<usd>(p, prices); });
    const limit_cost* const facing = find(costs, kind::facing);
    REQUIRE(facing != nullptr);
    CHECK_THAT(in_mm(facing->to), WithinAbs(7.0, 1e-9));
    CHECK(facing->binds());
    const double per_metre = to_mass(meat.total()).value() / 0.2; // kilograms
    // Scores are billionths of the currency, cumulative worths rounded to one at either end; over a millimetre that is
    // 1e-6 of it.
    CHECK_THAT(facing->shadow_price() / 1e9, WithinRel(36.0 * per_metre, 1e-5)); // behind the facing
    const planned now = best_value(meat, request.cuts, prices, request.rules);
    const money<usd> more = worth_of<usd>(facing->planned.plan, prices) - worth_of<usd>(now.plan, prices);
    CHECK_THAT(more.value(), WithinRel(27.0 * per_metre * 0.001, 1e-5)); // the grind is one millimetre less
    CHECK_THAT(to_mass(facing->more_in_portions) / gram, WithinAbs(1000.0 * per_metre * 0.001, 1e-5));
    for (const kind what : {kind::thickness_min, kind::thickness_max, kind::loose_thickness}) {
        REQUIRE(find(costs, what) != nullptr);
        CHECK_FALSE(find(costs, what)->binds()); // all is steak already
    }
    CHECK(find(costs, kind::portion_max) == nullptr); // there is none to move
    CHECK(find(costs, kind::portion_min) == nullptr);
}

TEST_CASE("scores that are no numbers have no price, but their portions still count") {
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {29_mm, 40_mm}}}};
    const auto costs = limit_costs(prism(), request, [](const cutting_problem& p) { return slabs_of_portions{p}; });
    const limit_cost* const thinner = find(costs, kind::thickness_min); // 28 mm: seven instead of six
    REQUIRE(thinner != nullptr);
    CHECK(std::isnan(thinner->gain));
    CHECK_FALSE(thinner->binds());
    CHECK(thinner->more_portions == 1);
}

TEST_CASE("of a lexicographic score the first part that changes says whether a limit binds") {
    // 200 mm give six steaks of 30 mm and seven of 28 mm; steaks are charged at what 28 mm of the prism weigh.
    const profile meat = prism();
    const mass charge = 28.0 / 200.0 * to_mass(meat.total());
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {29_mm, 40_mm}}}};
    const auto costs = limit_costs(meat, request, [&](const cutting_problem& problem) {
        return lexicographic(portion_count_objective(problem), overweight_objective(problem, {{"steak", charge}}));
    });
    const limit_cost* const thinner = find(costs, kind::thickness_min);
    REQUIRE(thinner != nullptr);
    CHECK(std::isnan(thinner->gain));
    REQUIRE(thinner->gain_parts.size() == 2);
    CHECK(thinner->gain_parts[0] == 1.0);
    // Six steaks of 29 mm, 1 mm above the charge, give way to seven that weigh just what they are charged at.
    CHECK_THAT(thinner->gain_parts[1] * 1e-9, WithinAbs(6.0 / 200.0 * (to_mass(meat.total()) / kilogram), 1e-6));
    CHECK(thinner->binds());
    const limit_cost* const thicker = find(costs, kind::thickness_max);
    REQUIRE(thicker != nullptr);
    CHECK(thicker->gain_parts == std::vector<double>{0.0, 0.0});
    CHECK_FALSE(thicker->binds());
}

TEST_CASE("nothing is gained by a change with which the demands cannot be met") {
    // Three steaks are asked for; two to a slab never make three, and the plan without demands would have more.
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {30_mm, 40_mm}}},
                                  .demands = {exactly(3, "steak")}};
    const auto costs = limit_costs(prism(), request, by_count);
    const limit_cost* const pieces = find(costs, kind::pieces);
    REQUIRE(pieces != nullptr);
    CHECK(pieces->planned.stop == stop_reason::demand_impossible);
    CHECK(std::isnan(pieces->gain));
    CHECK(pieces->more_portions == 0);
    CHECK_FALSE(pieces->binds());
}

TEST_CASE("every limit of a request can be read and moved") {
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {25_mm, 30_mm}, .portion = {200_g, 300_g}}},
                                  .rules = {.facing = 8_mm},
                                  .demands = {exactly(2, "steak")}};
    for (const request_limit& limit : detail::limits_of(request)) {
        CAPTURE(name_of(limit));
        const limit_value was = value_of(request, limit);
        limit_value to = was;
        if (auto* const l = std::get_if<length>(&to)) *l += 1_mm;
        if (auto* const m = std::get_if<mass>(&to)) *m += 1_g;
        if (auto* const s = std::get_if<fraction>(&to)) *s = 0.5;
        if (auto* const n = std::get_if<std::int64_t>(&to)) ++*n;
        const cutting_request then = moved(request, limit, to);
        CHECK(value_of(then, limit) == to);
        CHECK(value_of(moved(then, limit, was), limit) == was);
        CHECK_FALSE(detail::owner_of(request, limit).empty());
    }
    CHECK(limit_text(unlimited<mass>()) == "unlimited");
    CHECK(limit_text(demand::any_number) == "unlimited");
    CHECK(limit_text(0.125) == "12.5 %");
}

TEST_CASE("a remnant, a zone, a kerf, notches and one thickness are limits that can be in the way") {
    const profile meat = prism(); // 200 mm, 94.83 g a centimetre
    const auto check = [&](const cutting_request& request, kind what, const limit_value& to, const std::string& text) {
        CAPTURE(text);
        CHECK_FALSE(plan(meat, request, by_count).feasible());
        const auto changes = nearest_feasible(meat, request, by_count);
        const limit_change* const change = find(changes, what);
        REQUIRE(change != nullptr);
        CHECK_THAT(detail::raw_number(change->to), WithinAbs(detail::raw_number(to), 1e-12));
        CHECK_THAT(change->text, StartsWith(text));
        const cutting_request then = moved(request, change->which, change->to);
        CHECK(plan(meat, then, by_count).feasible());
        CHECK(verify(change->planned.plan, meat, then.cuts, then.rules) == std::vector<std::string>{});
    };
    const cut_spec inside{.name = "steak", .thickness = 30_mm, .zone = {20_mm, 100_mm}};
    const cutting_request remnant{.cuts = {inside}, .rules = {.remnant = {.thickness = 17_cm}}};
    check(remnant, kind::remnant_thickness, 150_mm,
          "whole loin: thickness of the least remnant 150 mm instead of 170 mm gives 1 portion, "); // 200 - 20 - 30
    check(remnant, kind::zone_from, 0_mm, "steak: start of the zone 0 mm instead of 20 mm gives 1 portion, ");
    check(remnant, kind::zone_to, 200_mm, "steak: end of the zone 200 mm instead of 100 mm gives 6 portions, ");
    REQUIRE(nearest_portion_of(meat, remnant, 0).size() > 2);
    CHECK(find(nearest_portion_of(meat, remnant, 0), kind::remnant_thickness) != nullptr);
    // 150 mm are 1422.4 g and something, so the whole tenth below.
    const cutting_request heavy{.cuts = {inside}, .rules = {.remnant = {.weight = 1.6_kg}}};
    check(heavy, kind::remnant_weight, 1422.4_g,
          "whole loin: weight of the least remnant 1422.4 g instead of 1600 g gives 1 portion, ");
    // 60 mm of zone, cuts of 30 mm: two have room without a kerf between them, three never.
    cutting_request kerf{.cuts = {{.name = "steak", .thickness = 30_mm, .kerf = 2_mm, .zone = {20_mm, 80_mm}}}};
    CHECK(plan(meat, kerf, by_count).plan.portion_count() == 1);
    const auto two = one_more_portion(meat, kerf, by_count);
    REQUIRE(find(two, kind::kerf) != nullptr);
    CHECK_THAT(find(two, kind::kerf)->text,
               StartsWith("steak: kerf ") && ContainsSubstring("instead of 2 mm gives 2 portions"));
    CHECK(find(two, kind::kerf)->planned.plan.portion_count() == 2);
    REQUIRE(find(two, kind::zone_to) != nullptr);
    CHECK_THAT(in_mm(find(two, kind::zone_to)->to), WithinAbs(82.0, 1e-9));
    REQUIRE(find(two, kind::zone_from) != nullptr);
    CHECK_THAT(in_mm(find(two, kind::zone_from)->to), WithinAbs(18.0, 1e-9));
    // 20, 30, 40 mm: 237 g of 25 mm lie between two notches.
    const cut_spec notched{
        .name = "steak", .thickness = {20_mm, 40_mm}, .portion = {230_g, 245_g}, .thickness_step = 10_mm};
    check({.cuts = {notched}}, kind::thickness_step, 0_mm,
          "steak: step between thicknesses 0 mm instead of 10 mm gives 8 portions, ");
    CHECK(find(nearest_feasible(meat, {.cuts = {notched}}, by_count), kind::one_thickness) == nullptr);
}

TEST_CASE("one thickness for all costs a taper's portions, and can be left out") {
    // The same weight is a thin slab at the rib and a thick one at the sirloin face.
    const profile meat = tabulate(
        measured_loin{.length = 20_cm, .stations = {{0_cm, 18_cm, 9_cm}, {10_cm, 14_cm, 6_cm}, {20_cm, 10_cm, 4_cm}}},
        1_mm); // invented
    const cutting_request one{
        .cuts = {{.name = "steak", .thickness = {15_mm, 60_mm}, .portion = {190_g, 230_g}, .one_thickness = true}}};
    cutting_request apart = one;
    apart.cuts[0].one_thickness = false;
    const std::size_t together = plan(meat, one, by_count).plan.portion_count();
    const std::size_t most = plan(meat, apart, by_count).plan.portion_count();
    REQUIRE(most > together);
    const auto changes = one_more_portion(meat, one, by_count);
    const limit_change* const change = find(changes, kind::one_thickness);
    REQUIRE(change != nullptr);
    CHECK(change->to == limit_value{false});
    CHECK(change->planned.plan.portion_count() == most);
    CHECK_THAT(change->text, StartsWith("steak: one thickness for all not asked for instead of asked for gives "));
    const auto costs = limit_costs(meat, one, by_count);
    const limit_cost* const cost = find(costs, kind::one_thickness);
    REQUIRE(cost != nullptr);
    CHECK(cost->binds());
    CHECK(cost->more_portions == static_cast<std::int64_t>(most - together));
    CHECK(cost->shadow_price() == cost->gain); // over one step, from asked for to not
    CHECK(find(limit_costs(meat, apart, by_count), kind::one_thickness) == nullptr);
}

TEST_CASE("a trim leaves as much more fat or tail as a steak lacks of its least weight") {
    const profile meat = tabulate(box_loin{}, 1_mm);
    const cut_spec steak{.name = "steak", .thickness = 30_mm, .trim = {.fat_cover = 4_mm, .tail = 20_mm}};
    const tissue_densities rho = densities_at_4_celsius();
    const double fat_gram_per_mm =
        3.0 * 1.5 * rho[tissue::fat_cover].value() / 1000.0; // of a steak, 3 cm × 15 cm × 1 mm
    const double tail_gram_per_mm = 3.0 * 0.2 * rho[tissue::tail].value() / 1000.0;
    const mass now = of_box(30_mm, 4, 20);
    const auto hundredths_up = [](double mm) { return std::ceil(100.0 * mm) / 100.0; };
    for (const double lacks : {0.3, 5.0, 13.7, 17.0}) {
        CAPTURE(lacks);
        cutting_request request{.cuts = {steak}};
        request.cuts[0].portion = {now + lacks * gram, 2.0 * now};
        const auto check = [&](const std::vector<limit_change>& changes, kind what, double to_mm) {
            const limit_change* const change = find(changes, what);
            REQUIRE(change != nullptr);
            CHECK_THAT(in_mm(change->to), WithinAbs(to_mm, 1e-9));
            CHECK(change->planned.plan.portion_count() == 6);
            const cutting_request then = moved(request, change->which, change->to);
            CHECK(verify(change->planned.plan, meat, then.cuts, then.rules) == std::vector<std::string>{});
            const limit_value nearer = std::get<length>(change->to) - 0.01_mm;
            CHECK_FALSE(plan(meat, moved(request, change->which, nearer), by_count).feasible());
        };
        const auto changes = nearest_feasible(meat, request, by_count);
        check(changes, kind::fat_left, hundredths_up(4.0 + lacks / fat_gram_per_mm));
        // All 30 mm of tail that are taken off weigh 17.2 g or so.
        check(changes, kind::tail_left, hundredths_up(20.0 + lacks / tail_gram_per_mm));
        CHECK(find(changes, kind::whole_fat_left) == nullptr); // nothing comes off the whole loin
        CHECK_THAT(find(changes, kind::fat_left)->text,
                   StartsWith("steak: fat cover left ") && ContainsSubstring(" instead of 4 mm gives 6 portions, "));

        // The same where it is the whole loin that is trimmed.
        std::swap(request.cuts[0].trim, request.rules.trim_whole);
        const auto whole = nearest_feasible(meat, request, by_count);
        check(whole, kind::whole_fat_left, hundredths_up(4.0 + lacks / fat_gram_per_mm));
        check(whole, kind::whole_tail_left, hundredths_up(20.0 + lacks / tail_gram_per_mm));
        CHECK(find(whole, kind::fat_left) == nullptr); // there is no more fat on it then
        CHECK_THAT(find(whole, kind::whole_tail_left)->text, StartsWith("whole loin: tail left "));
        CHECK(find(nearest_portion_of(meat, request, 0), kind::whole_fat_left)->to ==
              find(whole, kind::whole_fat_left)->to);
    }
    // More than all the fat there is: 8 mm of it weigh 33.6 g or so.
    cutting_request much{.cuts = {steak}};
    much.cuts[0].portion.min = now + 36_g;
    CHECK(find(nearest_feasible(meat, much, by_count), kind::fat_left) == nullptr);
}

TEST_CASE("a tail limit that tapers is moved as a whole and told by its longer end") {
    // From 25 mm to 15 mm over 200 mm, so a steak of 30 mm at the rib end keeps 24.25 mm on average. It needs 30 mm of tail,
    // less what a hundredth of a millimetre cannot weigh: 5.75 mm more at both ends.
    const profile meat = tabulate(box_loin{}, 1_mm);
    cutting_request request{.cuts = {{.name = "steak",
                                      .thickness = 30_mm,
                                      .portion = {of_box(30_mm, 4, 30) - 0.002_g, unlimited<mass>()},
                                      .trim = {.fat_cover = 4_mm, .tail = {25_mm, 15_mm}}}}};
    for (const kind what : {kind::tail_left, kind::whole_tail_left}) {
        const auto changes = nearest_feasible(meat, request, by_count);
        const limit_change* const change = find(changes, what);
        REQUIRE(change != nullptr);
        CHECK_THAT(in_mm(change->to), WithinAbs(30.75, 1e-9));
        CHECK(change->planned.plan.portion_count() == 1);
        const cutting_request then = moved(request, change->which, change->to);
        CHECK(verify(change->planned.plan, meat, then.cuts, then.rules) == std::vector<std::string>{});
        CHECK_THAT(change->text,
                   ContainsSubstring(": tail left at the longer end 30.75 mm instead of 25 mm gives 1 portion"));
        std::swap(request.cuts[0].trim,
                  request.rules.trim_whole); // the same where it is the whole loin that is trimmed
    }
}

TEST_CASE("the trim of the whole loin leaves as much more as the least remnant lacks") {
    // Six steaks in their zone leave 20 mm behind them, and five 50 mm.
    const profile meat = tabulate(box_loin{}, 1_mm);
    const cutting_request request{
        .cuts = {{.name = "steak", .thickness = 30_mm, .zone = {0_mm, 180_mm}}},
        .rules = {.trim_whole = {.fat_cover = 4_mm, .tail = 20_mm}, .remnant = {.weight = of_box(20_mm, 4, 20) + 3_g}}};
    CHECK(plan(meat, request, by_count).plan.portion_count() == 5);
    const auto changes = one_more_portion(meat, request, by_count);
    const double fat_gram_per_mm = 2.0 * 1.5 * densities_at_4_celsius()[tissue::fat_cover].value() / 1000.0;
    const limit_change* const fat = find(changes, kind::whole_fat_left);
    REQUIRE(fat != nullptr);
    CHECK_THAT(in_mm(fat->to), WithinAbs(std::ceil(100.0 * (4.0 + 3.0 / fat_gram_per_mm)) / 100.0, 1e-9));
    CHECK(fat->planned.plan.portion_count() == 6);
    CHECK(find(changes, kind::fat_left) == nullptr); // a steak's own trim leaves the remnant as it is
}

TEST_CASE("a trim leaves as much less as a steak exceeds its largest weight, from all of it if need be") {
    const profile meat = tabulate(box_loin{}, 1_mm);
    cutting_request request{.cuts = {{.name = "steak", .thickness = 30_mm}}}; // untrimmed: 12 mm, 50 mm
    const double fat_gram_per_mm = 3.0 * 1.5 * densities_at_4_celsius()[tissue::fat_cover].value() / 1000.0;
    request.cuts[0].portion = {200_g, of_box(30_mm, 12, 50) - 10_g};
    const auto changes = nearest_feasible(meat, request, by_count);
    const double expected = std::floor(100.0 * (12.0 - 10.0 / fat_gram_per_mm)) / 100.0;
    for (const kind what : {kind::fat_left, kind::whole_fat_left}) {
        const limit_change* const less = find(changes, what);
        REQUIRE(less != nullptr);
        CHECK_THAT(in_mm(less->to), WithinAbs(expected, 1e-9));
        CHECK_THAT(less->text, ContainsSubstring(" instead of all of it gives 6 portions, "));
    }
    // A window that no more than a few hundredths of a millimetre of fat lie within is not jumped over.
    request.cuts[0].portion = {of_box(30_mm, 5.013, 50), of_box(30_mm, 5.027, 50)};
    const auto narrow = nearest_feasible(meat, request, by_count);
    REQUIRE(find(narrow, kind::fat_left) != nullptr);
    CHECK_THAT(in_mm(find(narrow, kind::fat_left)->to), WithinAbs(5.02, 1e-9));
    // Of too much and too little, the nearer.
    request.cuts[0].trim.fat_cover = 5_mm;
    CHECK_THAT(in_mm(find(nearest_feasible(meat, request, by_count), kind::fat_left)->to), WithinAbs(5.02, 1e-9));
    request.cuts[0].trim.fat_cover = 5.05_mm;
    CHECK_THAT(in_mm(find(nearest_feasible(meat, request, by_count), kind::fat_left)->to), WithinAbs(5.02, 1e-9));
}

TEST_CASE("a millimetre of fat costs what it weighs, and what it is worth more on a steak") {
    const profile meat = tabulate(box_loin{}, 1_mm);
    const cutting_request request{
        .cuts = {{.name = "steak", .thickness = 25_mm, .trim = {.fat_cover = 4_mm, .tail = 0_mm}}}};
    price_list<usd> prices{.portions = {{"steak", {.by_weight = 36_usd / 1_kg}}}};
    prices.by_products[destination::rendering] = 1_usd / 1_kg;
    const auto costs =
        limit_costs(meat, request, [&](const cutting_problem& p) { return value_objective<usd>(p, prices); });
    // 20 cm × 15 cm × 1 mm, on eight steaks at 36 instead of 1 USD/kg.
    const double kilograms = 0.20 * 0.15 * 0.001 * densities_at_4_celsius()[tissue::fat_cover].value();
    std::size_t fat = 0, tail = 0, whole = 0;
    for (const limit_cost& cost : costs) {
        if (cost.which.what == kind::tail_left) ++tail;
        if (cost.which.what == kind::whole_fat_left) {
            ++whole; // 11 mm left are still more than the steak's own trim leaves
            CHECK_FALSE(cost.binds());
            CHECK(cost.from == limit_value{unlimited<length>()});
            CHECK_THAT(cost.moved_by, WithinAbs(0.001, 1e-12));
            CHECK_THAT(in_mm(cost.to), WithinAbs(11.0, 1e-9));
        }
        if (cost.which.what != kind::fat_left) continue;
        const double sign = fat++ == 0 ? 1.0 : -1.0; // more first
        CHECK_THAT(in_mm(cost.to), WithinAbs(4.0 + sign, 1e-9));
        CHECK_THAT(cost.gain / 1e9, WithinAbs(sign * 35.0 * kilograms, 1e-5));
        CHECK_THAT(cost.shadow_price() / 1e9, WithinAbs(sign * 35.0 * kilograms / 0.001, 1e-2));
        // 200 cells, rounded to a microgram each
        CHECK_THAT(to_mass(cost.more_in_portions).value(), WithinAbs(sign * kilograms, 2e-7));
        CHECK(cost.binds() == (sign > 0.0));
        CHECK(cost.more_portions == 0);
    }
    CHECK(fat == 2);
    CHECK(tail == 1); // there is none to leave less of
    CHECK(whole == 1);
}

TEST_CASE("an order of cuts costs the portions that lie on the wrong side, and can be left out") {
    // 60 mm for two fillets at the rib, 140 mm for four steaks behind them; steaks first, there is no room for both.
    const profile meat = prism();
    cutting_request request{.cuts = {{.name = "fillet", .thickness = 30_mm, .zone = {0_mm, 60_mm}},
                                     {.name = "steak", .thickness = 35_mm, .zone = {60_mm, 200_mm}}},
                            .rules = {.order = {{"steak", "fillet"}}}};
    CHECK(plan(meat, request, by_count).plan.portion_count() == 4);
    const auto changes = one_more_portion(meat, request, by_count);
    const limit_change* const change = find(changes, kind::order);
    REQUIRE(change != nullptr);
    CHECK(change->planned.plan.portion_count() == 6);
    CHECK_THAT(change->text,
               StartsWith("steak before fillet: order of cuts not asked for instead of asked for gives 6 portions, "));
    const cutting_request then = moved(request, change->which, change->to);
    CHECK(then.rules.order.empty());
    CHECK(verify(change->planned.plan, meat, then.cuts, then.rules) == std::vector<std::string>{});
    const auto costs = limit_costs(meat, request, by_count);
    const limit_cost* const cost = find(costs, kind::order);
    REQUIRE(cost != nullptr);
    CHECK(cost->binds());
    CHECK(cost->more_portions == 2);
    CHECK(cost->shadow_price() == cost->gain);

    request.demands = {at_least(1, "steak"), at_least(1, "fillet")};
    CHECK_FALSE(plan(meat, request, by_count).feasible());
    const auto needed = nearest_feasible(meat, request, by_count);
    REQUIRE(find(needed, kind::order) != nullptr);
    CHECK(find(needed, kind::order)->planned.feasible());

    // Of several orders each is one, and the others stay.
    cutting_request two = request;
    two.rules.order = {{"fillet", "steak"}, {"steak", "fillet"}};
    const cutting_request second_only = moved(two, {kind::order, 0}, false);
    REQUIRE(second_only.rules.order.size() == 1);
    CHECK(second_only.rules.order[0] == cut_order{"steak", "fillet"});
    CHECK(value_of(two, {kind::order, 1}) == limit_value{true});
    CHECK(value_of(second_only, {kind::order, 1}) == limit_value{false});
    CHECK(detail::owner_of(two, {kind::order, 0}) == "fillet before steak");
}

TEST_CASE("a limit costs the evenness that equal portions would gain without a step of it") {
    // Slabs of 25 mm or more at the rib weigh as 250 cm³ or more do, those of 45 mm or less behind as 225 cm³ or less; six
    // portions take some of either, for those that show both faces are one.
    const profile meat = tabulate(stepped_loin{}, 1_mm);
    const auto six_even = [](const profile& m, const cutting_request& r) {
        return even_portions(m, r.cuts, r.rules, 6);
    };
    const cutting_request request{.cuts = {{.name = "steak", .thickness = {25_mm, 45_mm}}}};
    const double gram_per_cm3 = densities_at_4_celsius()[tissue::eye].value() / 1000.0;
    CHECK_THAT(plan(meat, request, six_even).score() / 1e6, WithinAbs(-25.0 * gram_per_cm3, 1e-5));
    const auto costs = limit_costs(meat, request, six_even);
    const limit_cost* const thinner = find(costs, kind::thickness_min);
    const limit_cost* const thicker = find(costs, kind::thickness_max);
    REQUIRE(thinner != nullptr);
    REQUIRE(thicker != nullptr);
    CHECK_THAT(thinner->gain / 1e6, WithinAbs(10.0 * gram_per_cm3, 1e-5)); // 240 instead of 250 cm³
    CHECK_THAT(thicker->gain / 1e6, WithinAbs(5.0 * gram_per_cm3, 1e-5));  // 230 instead of 225 cm³
    CHECK(thinner->more_portions == 0);
    CHECK_FALSE(find(costs, kind::loose_thickness)->binds());

    // Eight equal portions of a prism of 195 mm are 24 mm thick or less.
    const cutting_request prism_request{.cuts = {{.name = "steak", .thickness = {28_mm, 40_mm}}},
                                        .rules = {.facing = 5_mm}};
    const auto changes = nearest_feasible(prism(), prism_request, [](const profile& m, const cutting_request& r) {
        return even_portions(m, r.cuts, r.rules, 8);
    });
    const limit_change* const change = find(changes, kind::thickness_min);
    REQUIRE(change != nullptr);
    CHECK_THAT(in_mm(change->to), WithinAbs(24.0, 1e-9));
    CHECK(change->planned.plan.portion_count() == 8);

    // One more portion is one more for whoever wants the most, evenly or not.
    const auto evenly = one_more_portion(prism(), prism_request, [](const profile& m, const cutting_request& r) {
        return even_portions(m, r.cuts, r.rules);
    });
    const auto anyhow = one_more_portion(prism(), prism_request, by_count);
    REQUIRE(evenly.size() == anyhow.size());
    for (std::size_t i = 0; i < evenly.size(); ++i) {
        CHECK(evenly[i].which == anyhow[i].which);
        CHECK(evenly[i].to == anyhow[i].to);
        CHECK(evenly[i].planned.plan.portion_count() == anyhow[i].planned.plan.portion_count());
    }
}

} // namespace what_if_test
