// One loin on the board: what is advised, what is refused, what is undone, and what becomes of slabs outside their limits.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/session/cutting_session.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/literals.hpp>

namespace cutting_session_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// 100 cm² of eye at 1 g/cm³, so that a millimetre weighs 10 g; 40 cm long, so 4 kg.
profile ten_grams_a_millimetre(length extent = 40_cm) {
    tissue_densities dense = densities_at_4_celsius();
    dense[tissue::eye] = 1000.0 * kilogram_per_cubic_metre;
    const prism_loin loin{.length = extent, .face = {.width = 10_cm, .depth = 10_cm}, .shape = {.fill = 1.0}};
    return tabulate(loin, 0.5_mm, dense);
}

const cut_spec steak{.name = "steak", .thickness = {25_mm, 35_mm}, .portion = {280_g, 320_g}};
const cut_spec thin{.name = "thin steak", .thickness = {10_mm, 27_mm}, .portion = {100_g, 260_g}};

const auto most = [](const cutting_problem& problem) { return kept_mass_objective::portions_then_mass(problem); };
using session = cutting_session<kept_mass_objective>;

/// Grams in portions, but `bad` for slabs that start at or behind a position, or once the rest weighs more than a ratio.
struct not_always_finite {
    using score_type = double;
    const cutting_problem& problem;
    double bad = 0.0;
    std::size_t from_position = 0;
    double above_ratio = 0.0;
    double ratio = 1.0;

    void set_mass_ratio(double r) { ratio = r; }
    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const {
        if (from >= from_position && ratio > above_ratio) return bad;
        return problem.is_portion(option) ? 1e-6 * static_cast<double>(problem.weight(option, from, to)) : 0.0;
    }
};

template <class F>
std::string refused(const F& f) {
    try {
        f();
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "accepted";
}

} // namespace

TEST_CASE("a session advises the facing first and then the plan") {
    const profile meat = ten_grams_a_millimetre();
    REQUIRE(to_mass(meat.total()) / kilogram == Approx(4.0).epsilon(1e-9));
    session s(meat, {{steak}, {.facing = 8_mm}}, most);
    REQUIRE(s.next());
    CHECK(s.next()->kind == slab_kind::facing);
    CHECK(s.next()->set / millimetre == Approx(8.0));
    CHECK(s.next()->weight / gram == Approx(80.0));
    CHECK(s.portions_to_come() == 14); // 392 mm in slabs of 28 mm
    s.record({.weight = 80_g});
    REQUIRE(s.next());
    CHECK(s.next()->kind == slab_kind::portions);
    CHECK(s.next()->start / millimetre == Approx(8.0));
    CHECK(s.next()->set / millimetre == Approx(28.0));
    CHECK(s.next()->at / millimetre == Approx(36.0));
    CHECK(s.next()->portion / gram == Approx(280.0));
}

TEST_CASE("advice allows for the cutter's bias") {
    const profile meat = ten_grams_a_millimetre();
    session s(meat, {steak}, most, {.ratio = 0.0, .ruler = 0_mm});
    REQUIRE(s.next());
    const length set = s.next()->set;
    s.record({.weight = to_mass({std::llround((set / millimetre + 2.0) * 1e7)}), .thickness = set + 2_mm});
    // Prior and one reading of 2 mm have the same variance, 1 mm²: the mean is half way.
    CHECK(s.estimate().bias() / millimetre == Approx(1.0).epsilon(1e-9));
    CHECK(s.estimate().bias_spread() / millimetre == Approx(std::sqrt(0.5)).epsilon(1e-9));
    CHECK((s.next()->thickness - s.next()->set) / millimetre == Approx(1.0).epsilon(1e-9));
    CHECK(s.next()->at / millimetre == Approx((s.position() + s.next()->set) / millimetre));
}

TEST_CASE("a reading that cannot be right is refused by name and changes nothing") {
    const profile meat = ten_grams_a_millimetre();
    session s(meat, {steak}, most);
    constexpr double nan = std::numeric_limits<double>::quiet_NaN(), infinite = std::numeric_limits<double>::infinity();
    const auto entry = [&](const slab_reading& r) { return refused([&] { s.record(r); }); };
    for (const double bad : {nan, infinite, -1.0, 0.0}) {
        CHECK_THAT(entry({.weight = bad * kilogram}), StartsWith("weight: got "));
        CHECK_THAT(entry({.weight = 280_g, .thickness = bad * metre}), StartsWith("thickness: got "));
        CHECK_THAT(entry({.weight = 280_g, .thickness = {}, .set = bad * metre}), StartsWith("set: got "));
        CHECK_THAT(refused([&] { s.weigh_rest(bad * kilogram); }), StartsWith("weight: got "));
    }
    // The loin weighs 4 kg, give or take four times 3 % and 1 g.
    CHECK_THAT(entry({.weight = 4.49_kg}), StartsWith("weight: got 4490 g, expected at most what is left, 4484 g"));
    CHECK_THAT(entry({.weight = 280_g, .thickness = 41_cm}), StartsWith("thickness: got 410 mm, expected at most"));
    CHECK_THAT(entry({.weight = 28_g, .thickness = 28_mm}), ContainsSubstring("within a quarter of the 280 g"));
    CHECK_THAT(entry({.weight = 2.8_kg, .thickness = 28_mm}), ContainsSubstring("within a quarter of the 280 g"));
    CHECK_THAT(refused([&] { s.weigh_rest(400_g); }), ContainsSubstring("within a quarter of the 4000 g"));
    CHECK_THAT(refused([&] { (void)s.account(nan * kilogram); }), StartsWith("rest: got nan"));
    CHECK_THAT(refused([&] { session(meat, {steak}, most, {.knife = -1_mm}); }), StartsWith("knife: got -1 mm"));
    CHECK_THAT(refused([&] { session(meat, {steak}, most, {.ratio = nan}); }), StartsWith("ratio: got nan"));
    CHECK(s.slabs().empty());
    CHECK_FALSE(s.undo());
    CHECK(s.estimate().ratio() == 1.0);
}

TEST_CASE("a portion outside its limits comes with what to do") {
    const profile meat = ten_grams_a_millimetre();
    session only(meat, {steak}, most);
    const auto alone = [&](length thick) {
        return only.record({.weight = thick / millimetre * 10_g, .thickness = thick});
    };
    const actual_slab good = alone(30_mm);
    CHECK(good.within());
    CHECK(good.to_do == remedy::none);
    CHECK(good.portion / gram == Approx(300.0).epsilon(1e-6));
    const actual_slab heavy = alone(34_mm);
    CHECK(heavy.to_do == remedy::trim_down);
    CHECK(heavy.off / gram == Approx(20.0).epsilon(1e-6));
    const actual_slab light = alone(26_mm);
    CHECK(light.to_do == remedy::to_loose);
    CHECK(light.off / gram == Approx(-20.0).epsilon(1e-6));
    const cutting_account account = only.account();
    CHECK(account.portions_within == 1);
    CHECK(account.portions_too_heavy == 1);
    CHECK(account.portions_too_light == 1);
}

TEST_CASE("a portion too light for its spec can be one of another") {
    const profile meat = ten_grams_a_millimetre(28_cm);
    // Prices that make the thick steak the better one; too thin for it, a slab is still a thin steak. Invented.
    const price_list<usd> prices{
        .portions = {{"steak", {.by_weight = 40_usd / 1_kg}}, {"thin steak", {.by_weight = 20_usd / 1_kg}}}};
    cutting_session s(meat, {{steak, thin}}, [&](const cutting_problem& p) { return value_objective<usd>(p, prices); });
    REQUIRE(s.next()->option == 0);
    const actual_slab light = s.record({.weight = 250_g, .thickness = 25_mm});
    CHECK(light.to_do == remedy::another_spec);
    CHECK(s.specs()[light.other_spec].name == "thin steak");
    CHECK(light.off / gram == Approx(-30.0).epsilon(1e-6));
    REQUIRE(s.next()->option == 0);
    CHECK(s.record({.weight = 90_g, .thickness = 9_mm}).to_do ==
          remedy::to_loose); // too thin and light for that as well
}

TEST_CASE("a slab too light is not made another cut that should have come before") {
    const profile meat = ten_grams_a_millimetre(28_cm);
    const price_list<usd> prices{
        // invented: steaks behind one thin steak at the most
        .portions = {{"steak", {.by_weight = 40_usd / 1_kg}}, {"thin steak", {.by_weight = 20_usd / 1_kg}}}};
    const cutting_rules rules{.order = {{"thin steak", "steak"}}};
    cutting_session s(meat, {{steak, thin}, rules},
                      [&](const cutting_problem& p) { return value_objective<usd>(p, prices); });
    REQUIRE(s.next()->option == 0);
    CHECK(s.record({.weight = 250_g, .thickness = 25_mm}).to_do == remedy::another_spec); // nothing is cut yet
    REQUIRE(s.next()->option == 0);
    CHECK(s.record({.weight = 300_g, .thickness = 30_mm}).to_do == remedy::none);
    REQUIRE(s.next()->option == 0);
    CHECK(s.record({.weight = 250_g, .thickness = 25_mm}).to_do == remedy::to_loose);
    for (const grid_slab& one : s.plan_of_rest()) CHECK((one.kind != slab_kind::portions || one.option == 0));
    REQUIRE(s.undo());
    REQUIRE(s.undo());
    CHECK(s.record({.weight = 250_g, .thickness = 25_mm}).to_do == remedy::another_spec);
}

TEST_CASE("a common thickness is the one that the first slab was aimed at") {
    const profile meat = ten_grams_a_millimetre();
    cut_spec one = steak;
    one.one_thickness = true;
    one.portion.max = 360_g;
    cutting_session s(meat, {one}, most);
    CHECK(s.portions_to_come() == 14); // 28 to 28.5 mm thick
    const length planned = s.next()->thickness;
    s.record({.weight = 305_g, .thickness = 30.5_mm}); // slipped
    CHECK(s.slabs()[0].aimed == planned);
    for (int i = 0; i < 3; ++i) {
        CHECK(s.next()->thickness / millimetre == Approx(planned / millimetre));
        s.record({.weight = 285_g});
    }
    while (s.undo()) {}
    // A thickness of the cutter's own, set with the bias allowed for, is kept as well; one out of range is the nearest in it.
    for (const auto& [set, kept] : {std::pair{31_mm, 31_mm}, std::pair{36_mm, 35_mm}}) {
        s.record({.weight = 310_g, .thickness = 31_mm, .set = set});
        CHECK(s.portions_to_come() >= 10);
        for (const grid_slab& rest : s.plan_of_rest())
            if (rest.kind == slab_kind::portions) CHECK(0.5 * static_cast<double>(rest.to - rest.from) == kept / 1_mm);
        CHECK(s.undo());
    }
    // A slab that is not fit to be a portion fixes nothing.
    s.record({.weight = 150_g, .thickness = 15_mm});
    CHECK(s.slabs()[0].to_do == remedy::to_loose);
    CHECK(s.portions_to_come() == 13); // of 385 mm, 28 to 29.5 mm thick
}

TEST_CASE("undo takes back slabs and weighings, one at a time") {
    const profile meat = ten_grams_a_millimetre();
    session s(meat, {{steak}, {.facing = 8_mm}}, most);
    struct snapshot {
        std::vector<grid_slab> plan;
        double ratio, position;
        std::int64_t rest;
    };
    const auto now = [&] {
        return snapshot{{s.plan_of_rest().begin(), s.plan_of_rest().end()},
                        s.estimate().ratio(),
                        s.position().value(),
                        s.rest().count};
    };
    std::vector<snapshot> before;
    for (const double grams : {85.0, 290.0, 301.0}) {
        before.push_back(now());
        s.record({.weight = grams * 1_g});
    }
    before.push_back(now());
    s.weigh_rest(3.4_kg);
    CHECK(s.estimate().ratio() != before.back().ratio);
    for (; !before.empty(); before.pop_back()) {
        REQUIRE(s.undo());
        CHECK(now().plan == before.back().plan);
        CHECK(now().ratio == before.back().ratio);
        CHECK(now().position == before.back().position);
        CHECK(now().rest == before.back().rest);
    }
    CHECK(s.slabs().empty());
    CHECK_FALSE(s.undo());
}

TEST_CASE("slabs, rest and what is unaccounted for add up to the loin, to the microgram") {
    const profile meat = ten_grams_a_millimetre();
    session s(meat, {{{.name = "steak", .thickness = {25_mm, 35_mm}, .kerf = 1_mm}}, {.facing = 8_mm}}, most);
    const auto closes = [&](const cutting_account& a) {
        return (a.slabs + a.rest + a.unaccounted).count == meat.total().count;
    };
    CHECK(closes(s.account()));
    while (s.next() && !s.next()->last) {
        s.record({.weight = 1.0123456789 * s.next()->weight});
        CHECK(closes(s.account()));
        CHECK(s.account().unaccounted.count == 0);
        CHECK(closes(s.account(50_g)));
        CHECK(s.account(50_g).rest.count == 50'000'000);
    }
    std::int64_t sum = 0;
    for (const actual_slab& one : s.slabs()) sum += one.weight.count;
    CHECK(sum == s.account().slabs.count);
    REQUIRE(s.next());
    s.record({.weight = s.next()->weight});
    CHECK_FALSE(s.next());
    CHECK(s.why_stopped() == session_stop::cut_up);
    CHECK(s.position() == meat.extent());
    CHECK(closes(s.account(0_g)));
    CHECK_THAT(refused([&] { s.record({.weight = 10_g}); }), StartsWith("slab: got one more"));
    CHECK_THAT(refused([&] { s.weigh_rest(10_g); }), ContainsSubstring("cut up"));
}

TEST_CASE("the rest on the scale settles what slabs leave open") {
    const profile meat = ten_grams_a_millimetre();
    session s(meat, {steak}, most);
    // 5 % heavier than thought and cut 1 mm too thick: the weight of a slab does not tell one from the other.
    for (int i = 0; i < 4; ++i) s.record({.weight = 1.05 * (s.next()->set / millimetre + 1.0) * 10_g});
    const double open = s.estimate().ratio_spread();
    double cut = 0.0;
    for (const actual_slab& one : s.slabs()) cut += static_cast<double>(one.weight.count);
    s.weigh_rest((4200.0 - cut * 1e-6) * 1_g);
    CHECK(s.estimate().ratio_spread() < 0.5 * open);
    // Within three standard deviations of the truth.
    CHECK(std::abs(s.estimate().ratio() - 1.05) < 3.0 * s.estimate().ratio_spread());
    CHECK(std::abs(s.estimate().bias() / millimetre - 1.0) < 3.0 * (s.estimate().bias_spread() / millimetre));
}

TEST_CASE("a session whose objective is not finite advises nothing and says so") {
    const profile meat = ten_grams_a_millimetre(20_cm);
    constexpr double nan = std::numeric_limits<double>::quiet_NaN(), infinite = std::numeric_limits<double>::infinity();
    for (const double bad : {nan, infinite}) {
        for (const length& facing : {0_mm, 8_mm}) {
            cutting_session s(meat, {{steak}, {.facing = facing}}, [&](const cutting_problem& p) {
                return not_always_finite{p, bad, 100};
            });
            CHECK_FALSE(s.next());
            CHECK(s.why_stopped() == session_stop::objective_not_finite);
            CHECK(s.plan_of_rest().empty());
            CHECK(s.portions_to_come() == 0);
            CHECK_THAT(refused([&] { s.record({.weight = 280_g}); }), ContainsSubstring("not finite"));
            CHECK_THAT(refused([&] { s.weigh_rest(2_kg); }), ContainsSubstring("not finite"));
        }
    }
}

TEST_CASE("a session plans around what its objective forbids, and stops where that is everything") {
    const profile meat = ten_grams_a_millimetre(20_cm);
    constexpr double never = -std::numeric_limits<double>::infinity();
    // No slab may start at the 300th position or behind it: one in front of that reaches up to the sirloin face.
    cutting_session s(meat, {steak}, [&](const cutting_problem& p) { return not_always_finite{p, never, 300}; });
    REQUIRE(s.next());
    CHECK(s.plan_of_rest().back().to == meat.cells());
    CHECK(s.plan_of_rest().back().from < 300);
    CHECK(s.portions_to_come() > 1);
    for (const grid_slab& t : s.plan_of_rest()) CHECK(t.from < 300);

    const cutting_session none(meat, {steak}, [&](const cutting_problem& p) { return not_always_finite{p, never, 0}; });
    CHECK_FALSE(none.next());
    CHECK(none.why_stopped() == session_stop::objective_not_finite);
}

TEST_CASE("a session whose objective stops being finite can be taken back to where it was") {
    const profile meat = ten_grams_a_millimetre(20_cm);
    cutting_session s(meat, {steak}, [&](const cutting_problem& p) {
        return not_always_finite{p, std::numeric_limits<double>::quiet_NaN(), 0, 1.001};
    });
    REQUIRE(s.next());
    CHECK(s.why_stopped() == session_stop::not_yet);
    const length set = s.next()->set;
    s.record({.weight = 1.04 * s.next()->weight}); // the rest is believed to be heavier, by more than 0.1 %
    REQUIRE(s.estimate().ratio() > 1.001);
    CHECK_FALSE(s.next());
    CHECK(s.why_stopped() == session_stop::objective_not_finite);
    REQUIRE(s.undo());
    REQUIRE(s.next());
    CHECK(s.why_stopped() == session_stop::not_yet);
    CHECK(s.next()->set == set);
}

TEST_CASE("a rest too short for loose meat asks its objective about no slab beyond the sirloin face") {
    // Heavier towards the sirloin, so that by weight the best plan of the rest has a sliver of loose meat first.
    const profile meat = tabulate(tapered_loin{.length = 52_mm,
                                               .rib = {.width = 14_cm, .depth = 6_cm},
                                               .sirloin = {.width = 18_cm, .depth = 8_cm}},
                                  1_mm); // invented
    struct weight_of_what_can_be {
        using score_type = double;
        const cutting_problem& problem;
        [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const {
            if (from >= to || to > problem.cells()) throw std::logic_error("a slab that cannot be");
            return problem.is_portion(option) ? static_cast<double>(problem.weight(option, from, to)) : 0.0;
        }
    };
    const cut_spec slice{.name = "slice", .thickness = 25_mm};
    const cutting_rules rules{.loose = {{.goes_to = destination::grind, .least_thickness = 40_mm}}};
    cutting_session s(meat, {{slice}, rules}, [](const cutting_problem& p) { return weight_of_what_can_be{p}; });
    REQUIRE(s.next());
    s.record({.weight = to_mass(meat.between(0, 25)), .thickness = 25_mm});
    REQUIRE(s.next());
    CHECK(s.next()->kind == slab_kind::portions);
    CHECK(s.portions_to_come() == 1);
}

TEST_CASE("a session plans for what is left of its demands") {
    const profile meat = ten_grams_a_millimetre(20_cm);
    // By count alone all would be thin: 10 mm of 100 g. Two thick ones are asked for, and thin ones are capped.
    cutting_session s(meat, {{steak, thin}, {}, {exactly(2, "steak"), at_most(3, "thin steak")}}, most);
    const auto cut_of = [&](std::size_t spec) {
        return std::count_if(s.slabs().begin(), s.slabs().end(), [&](const actual_slab& one) {
            return one.kind == slab_kind::portions && one.option == spec;
        });
    };
    CHECK(s.portions_to_come() == 5);
    CHECK(s.shortfalls().empty());
    while (s.next()) {
        s.record({.weight = s.next()->weight});
        CHECK(s.shortfalls().empty());
        CHECK(static_cast<std::size_t>(cut_of(0) + cut_of(1)) + s.portions_to_come() == 5);
    }
    CHECK(cut_of(0) == 2);
    CHECK(cut_of(1) == 3);
    CHECK(s.why_stopped() == session_stop::cut_up);

    // The same number without demands is what a session without any gives.
    cutting_session free(meat, {{steak, thin}}, most), asked(meat, {{steak, thin}, {}, {at_least(0, 0)}}, most);
    CHECK(std::vector(free.plan_of_rest().begin(), free.plan_of_rest().end()) ==
          std::vector(asked.plan_of_rest().begin(), asked.plan_of_rest().end()));
    CHECK_THAT(refused([&] {
                   cutting_session(meat, {{steak}, {}, {at_least(1, "roast")}}, most);
               }),
               StartsWith("demand.spec: got \"roast\""));
}

TEST_CASE("a slab that is not fit for its cut does not count, and is asked for once more") {
    const profile meat = ten_grams_a_millimetre(20_cm);
    // 200 mm: three steaks of 28 mm or more, at the start of the loin or at its end.
    cutting_session s(meat, {{steak, thin}, {}, {exactly(3, "steak")}}, most);
    const auto steaks_to_come = [&] {
        return std::count_if(s.plan_of_rest().begin(), s.plan_of_rest().end(),
                             [](const grid_slab& one) { return one.kind == slab_kind::portions && one.option == 0; });
    };
    CHECK(steaks_to_come() == 3);
    while (s.next() && s.next()->option != 0) s.record({.weight = s.next()->weight});
    REQUIRE(s.next());
    const actual_slab& light = s.record({.weight = 250_g, .thickness = 25_mm}); // within a thin steak's limits
    CHECK(light.to_do == remedy::another_spec);
    CHECK(steaks_to_come() + static_cast<std::ptrdiff_t>(
                                 s.shortfalls().empty() ? 0 : s.shortfalls()[0].wanted - s.shortfalls()[0].possible) ==
          3);
    REQUIRE(s.undo());
    CHECK(steaks_to_come() == 3);
}

TEST_CASE("what a loin can no longer give is lowered to what it can, and named") {
    const profile meat = ten_grams_a_millimetre(10_cm); // three of 28 to 32 mm
    cutting_session s(meat, {{steak, thin}, {}, {at_least(5, "steak"), at_most(0, "thin steak")}}, most);
    CHECK(s.portions_to_come() == 3);
    auto missed = s.shortfalls();
    REQUIRE(missed.size() == 1);
    CHECK(missed[0].spec == 0);
    CHECK(missed[0].wanted == 5);
    CHECK(missed[0].possible == 3);
    CHECK(missed[0].text == "steak: 5 more asked for, and the plan of the rest has 3");
    s.record({.weight = s.next()->weight});
    missed = s.shortfalls();
    REQUIRE(missed.size() == 1);
    CHECK(missed[0].wanted == 4);
    CHECK(missed[0].possible == 2);
    while (s.next()) s.record({.weight = s.next()->weight});
    missed = s.shortfalls();
    REQUIRE(missed.size() == 1);
    CHECK(missed[0].wanted == 2);
    CHECK(missed[0].possible == 0);
    for (const actual_slab& one : s.slabs()) CHECK_FALSE((one.kind == slab_kind::portions && one.option == 1));

    // Two that clash: one is kept in full, and what the other can have beside it.
    cutting_session both(meat, {{steak, thin}, {}, {at_least(3, "steak"), at_least(3, "thin steak")}}, most);
    missed = both.shortfalls();
    REQUIRE(missed.size() == 1);
    CHECK(missed[0].spec == 0);
    CHECK(missed[0].possible == 2); // 56 mm, and three of 10 mm
    CHECK(both.portions_to_come() >= 5);
}

TEST_CASE("a problem of the rest starts where it is told and weighs what it is told") {
    const profile meat = ten_grams_a_millimetre();
    cutting_problem problem(meat, {steak}, {.facing = 8_mm});
    CHECK_THAT(refused([&] { problem.plan_rest(801, 1.0); }), StartsWith("start: got 801"));
    for (const double bad : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()})
        CHECK_THAT(refused([&] { problem.plan_rest(0, bad); }), StartsWith("mass_ratio: got "));
    CHECK(problem.start() == 16);
    CHECK(problem.allows(1, 16, 16 + 56)); // 28 mm, 280 g
    problem.plan_rest(10, 1.1);
    CHECK(problem.start() == 10);
    CHECK(problem.allows(1, 10, 10 + 51));       // 25.5 mm, 280.5 g
    CHECK_FALSE(problem.allows(1, 10, 10 + 50)); // 25 mm, 275 g
    CHECK(problem.allows(1, 10, 10 + 58));       // 29 mm, 319 g
    CHECK_FALSE(problem.allows(1, 10, 10 + 59)); // 29.5 mm, 324.5 g
    problem.plan_rest(16, 1.0);
    CHECK(problem.allows(1, 16, 16 + 56));
    CHECK_FALSE(problem.allows(1, 16, 16 + 55));
}

TEST_CASE("a price by the piece keeps its worth against weight when the loin is heavier") {
    // 40 mm: one piece of 40, worth 40 × r × 10 g × 0.02 USD/g = 8 r USD, or two of 20 at 4.50 USD each. Above a ratio of
    // 9/8 the weight wins.
    const profile meat = ten_grams_a_millimetre(40_mm);
    const price_list<usd> prices{.portions = {{"one", {.by_weight = 20_usd / 1_kg}}, {"half", {.each = 4.5_usd}}}};
    cutting_problem problem(meat, {{.name = "one", .thickness = 40_mm}, {.name = "half", .thickness = 20_mm}}, {});
    value_objective<usd> objective(problem, prices);
    const auto slabs_at = [&](double ratio) {
        problem.plan_rest(0, ratio);
        objective.set_mass_ratio(ratio);
        return best_path(problem, objective).stretches.size();
    };
    CHECK(slabs_at(1.0) == 2);
    CHECK(slabs_at(1.12) == 2);
    CHECK(slabs_at(1.13) == 1);
    CHECK(slabs_at(1.0) == 2);
}

} // namespace cutting_session_test
