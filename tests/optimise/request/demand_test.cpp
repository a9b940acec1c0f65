// Demands on an invented prism, where the answer can be worked out by hand, and demands that make no sense.
// SPDX-License-Identifier: BSL-1.0
#include "optimise/score_numbers.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

namespace demand_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

profile prism_of_42_cm() {
    return tabulate(prism_loin{.length = 42_cm, .face = {.width = 15_cm, .depth = 7_cm}}, 1_mm);
}

/// Steaks of 3 cm, roasts of 10 cm, and fillets of 5 cm that come two to a slab.
const std::vector<cut_spec> steak_roast_fillet{{.name = "steak", .thickness = 3_cm},
                                               {.name = "roast", .thickness = 10_cm},
                                               {.name = "fillet", .thickness = 5_cm, .pieces = 2}};

std::vector<std::int64_t> portions_by_spec(const cutting_plan& p) {
    std::vector<std::int64_t> counts(p.specs.size());
    for (const slab& s : p.slabs)
        if (s.kind == slab_kind::portions) counts[s.option] += p.specs[s.option].pieces;
    return counts;
}

planned most(const std::vector<demand>& demands) {
    return most_portions(prism_of_42_cm(), steak_roast_fillet, {}, demands);
}

} // namespace

TEST_CASE("a demand counts portions, not slabs, by name or by index") {
    // Without a demand: 8 slabs of fillets leave 2 cm; 6 and 4 steaks give as many portions, 16, and leave nothing.
    CHECK(portions_by_spec(most({}).plan) == std::vector<std::int64_t>{4, 0, 12});
    CHECK(portions_by_spec(most({at_least(2, "roast")}).plan) == std::vector<std::int64_t>{4, 2, 4});
    CHECK(portions_by_spec(most({at_least(2, 1)}).plan) == std::vector<std::int64_t>{4, 2, 4});
    CHECK(portions_by_spec(most({at_most(8, "fillet")}).plan) == std::vector<std::int64_t>{9, 0, 6}); // all 42 cm
    CHECK(portions_by_spec(most({at_most(7, "fillet")}).plan) == std::vector<std::int64_t>{9, 0, 6});
    CHECK(portions_by_spec(most({exactly(1, "steak"), exactly(3, 1)}).plan) == std::vector<std::int64_t>{1, 3, 2});
    CHECK(portions_by_spec(most({exactly(0, 2)}).plan) == std::vector<std::int64_t>{14, 0, 0});
    const demand two_slabs{.spec = "fillet", .at_least = 3, .at_most = 5};
    CHECK(portions_by_spec(most({two_slabs}).plan) == std::vector<std::int64_t>{10, 0, 4});
}

TEST_CASE("a demand that is met is optimal, with a bound that is the score and no gap") {
    const tranche::planned planned = most({at_least(2, "roast")});
    CHECK(planned.feasible());
    CHECK(planned.proven_optimal());
    CHECK(planned.stop == stop_reason::optimal);
    CHECK(planned.score() > 0.0);
    CHECK(planned.bound() == planned.score());
    CHECK(planned.gap() == 0.0);
    CHECK(planned.shortfalls.empty());
    CHECK(planned.why_not().empty());
}

TEST_CASE("the score of a plan counts portions before micrograms") {
    const tranche::planned planned = most({at_least(2, "roast")});
    const double total = static_cast<double>(planned.plan.total.count);
    // Ten portions of all the meat there is: a prism of whole cuts leaves nothing.
    CHECK(planned.plan.portion_count() == 10);
    CHECK(planned.score() ==
          10.0 * (total + 1.0) + static_cast<double>(balance_of(planned.plan).portion_total().count));
}

TEST_CASE("a demand beyond what the loin gives is answered with what it gives") {
    const tranche::planned planned = most({at_least(5, "roast"), at_least(1, "steak")});
    CHECK_FALSE(planned.feasible());
    CHECK_FALSE(planned.proven_optimal());
    CHECK(planned.stop == stop_reason::demand_impossible);
    REQUIRE(planned.shortfalls.size() == 1);
    CHECK(planned.shortfalls[0].spec == 1);
    CHECK(planned.shortfalls[0].wanted == 5);
    CHECK(planned.shortfalls[0].possible == 4);
    CHECK(planned.why_not() == "roast: 5 portions are asked for, and the loin gives 4 at most");
    // Three roasts and a steak lack as many portions as four roasts do, two, and leave room for three more.
    CHECK(portions_by_spec(planned.plan) == std::vector<std::int64_t>{4, 3, 0});
}

TEST_CASE("a plan that cannot have all that is asked for has as much of it as can be, and keeps what is allowed") {
    CHECK(portions_by_spec(most({at_least(20, "steak")}).plan) == std::vector<std::int64_t>{14, 0, 0});
    // A roast more than the loin gives, and no more than two fillets: two centimetres are left.
    CHECK(portions_by_spec(most({at_least(5, "roast"), at_most(2, "fillet")}).plan) ==
          std::vector<std::int64_t>{0, 4, 0});
    // A demand that can be met is met beside one that cannot.
    CHECK(portions_by_spec(most({at_least(3, "steak"), exactly(3, "fillet"), at_most(0, "roast")}).plan) ==
          std::vector<std::int64_t>{12, 0, 2});
    // Of two that clash as many portions as fit: seven steaks and eight fillets lack three as well, and leave a centimetre.
    const planned clash = most({at_least(10, "steak"), at_least(8, "fillet")});
    CHECK(portions_by_spec(clash.plan) == std::vector<std::int64_t>{9, 0, 6});
    CHECK(clash.stop == stop_reason::demand_impossible);
}

TEST_CASE("demands that only clash with each other are answered with what each leaves room for") {
    // 30 cm of roasts leave 12 cm, which are 4 steaks; 5 steaks leave 27 cm, which are 2 roasts.
    const tranche::planned planned = most({at_least(3, "roast"), at_least(5, "steak")});
    CHECK(planned.stop == stop_reason::demand_impossible);
    REQUIRE(planned.shortfalls.size() == 2);
    CHECK(planned.shortfalls[0].possible == 2);
    CHECK(planned.shortfalls[1].possible == 4);
    CHECK(planned.why_not() ==
          "roast: 3 portions are asked for, and beside the other demands the loin gives 2 at most\n"
          "steak: 5 portions are asked for, and beside the other demands the loin gives 4 at most");
}

TEST_CASE("three demands of which every two clash are answered with all three") {
    const tranche::planned planned = most({at_least(3, "roast"), at_least(9, "steak"), at_least(8, "fillet")});
    CHECK(planned.stop == stop_reason::demand_impossible);
    CHECK(planned.why_not() ==
          "the loin does not give 3 of roast and 9 of steak and 8 of fillet at once, nor if any "
          "one of these is left out\n"
          "fillet: 8 portions are asked for, and the plan that comes nearest to the demands has 6");
}

TEST_CASE("an odd number of portions that come in pairs is answered with the even ones beside it") {
    const tranche::planned planned = most({exactly(5, "fillet")});
    CHECK(planned.stop == stop_reason::demand_impossible);
    CHECK(planned.why_not() ==
          "fillet: 5 portions are asked for and 5 allowed, but they come 2 to a slab; ask for 4 or 6");
    CHECK(most({exactly(6, "fillet")}).feasible());
}

TEST_CASE("demands of zero, and of more than any loin gives, are demands like others") {
    constexpr std::int64_t huge = std::numeric_limits<std::int64_t>::max() - 1;
    CHECK(portions_by_spec(most({at_least(0, "roast")}).plan) == portions_by_spec(most({}).plan));
    CHECK(portions_by_spec(most({at_most(huge, "roast")}).plan) == portions_by_spec(most({}).plan));
    CHECK(most({at_least(huge, "roast")}).why_not() ==
          "roast: " + std::to_string(huge) + " portions are asked for, and the loin gives 4 at most");
    const planned none = most({exactly(0, "steak"), exactly(0, "roast"), at_most(1, "fillet")});
    CHECK(none.stop == stop_reason::no_portion_wanted);
    CHECK(none.plan.portion_count() == 0);
    CHECK(none.why_not() == "portions can be cut, but the demands allow none");
}

TEST_CASE("a demand that makes no sense is refused, with the field, the value and what was expected") {
    const auto refused = [](const demand& wanted, const std::string& field, const std::string& value,
                            const std::string& expected) {
        CAPTURE(field);
        CHECK_THROWS_AS(most({wanted}), invalid_input);
        CHECK_THROWS_WITH(most({wanted}),
                          ContainsSubstring(field) && ContainsSubstring(value) && ContainsSubstring(expected));
    };
    refused(at_least(-1, "steak"), "demand for steak: at_least", "-1", "zero or more");
    refused(at_most(-1, "roast"), "demand for roast: at_most", "-1", "no fewer than at_least, 0");
    refused({.spec = "steak", .at_least = 4, .at_most = 3}, "demand for steak: at_most", "3",
            "no fewer than at_least, 4");
    refused(at_least(1, "brisket"), "demand.spec", "\"brisket\"", "the name of a spec: steak, roast, fillet");
    refused(at_least(1, ""), "demand.spec", "\"\"", "the name of a spec");
    refused(at_least(1, 3), "demand.spec", "3", "an index below the number of specs, 3");
    CHECK_THROWS_WITH(most({at_least(1, "steak"), at_most(3, 0)}),
                      ContainsSubstring("demand for steak") && ContainsSubstring("one demand for each spec"));
}

TEST_CASE("least waste and best value take demands as well") {
    const profile meat = prism_of_42_cm();
    const auto two_roasts = std::vector{exactly(2, "roast")};
    const planned least = least_waste(meat, steak_roast_fillet, {}, two_roasts);
    CHECK(portions_by_spec(least.plan)[1] == 2);
    CHECK(balance_of(least.plan).portion_total() == meat.total());
    // Invented prices, by which nobody would cut a roast.
    const price_list<usd> prices{.portions = {{"steak", {.by_weight = 18_usd / 1_lb}},
                                              {"roast", {.by_weight = 1_usd / 1_lb}},
                                              {"fillet", {.by_weight = 15_usd / 1_lb}}}};
    CHECK(portions_by_spec(best_value(meat, steak_roast_fillet, prices).plan) == std::vector<std::int64_t>{14, 0, 0});
    const planned best = best_value(meat, steak_roast_fillet, prices, {}, two_roasts);
    CHECK(portions_by_spec(best.plan) ==
          std::vector<std::int64_t>{7, 2, 0}); // 22 cm: more than 4 and 2 slabs of fillets
    CHECK(verify(best.plan, meat, steak_roast_fillet, {}).empty());
    CHECK(portions_by_spec(most_portions(meat, steak_roast_fillet[0], {}, {at_most(3, 0)}).plan) ==
          std::vector<std::int64_t>{3});
    CHECK(portions_by_spec(least_waste(meat, steak_roast_fillet[0], {}, {at_most(3, 0)}).plan) ==
          std::vector<std::int64_t>{3});
}

TEST_CASE("a score that is not finite does not end as a plan that meets a demand") {
    struct broken {
        using score_type = double;
        [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t) const {
            return option == 2 && from > 100 ? std::numeric_limits<double>::quiet_NaN() : 1.0;
        }
    };
    const profile meat = prism_of_42_cm();
    const cutting_problem problem(meat, steak_roast_fillet, {});
    const tranche::planned planned = plan(problem, broken{}, {at_least(2, "roast")});
    CHECK(planned.stop == stop_reason::objective_not_finite);
    CHECK_FALSE(planned.feasible());
    CHECK(std::isnan(planned.gap()));
}

TEST_CASE("a lexicographic score has no gap when it is proven optimal, and a bound part by part") {
    const profile meat = prism_of_42_cm();
    const cutting_problem problem(meat, steak_roast_fillet, {});
    const auto count_then_mass = lexicographic(portion_count_objective(problem), portion_mass_objective(problem));
    for (const auto& demands : {std::vector<demand>{}, {at_least(2, "roast")}, {at_most(7, "fillet"), exactly(1, 1)}}) {
        const tranche::planned planned = plan(problem, count_then_mass, demands);
        CHECK(planned.proven_optimal());
        CHECK(planned.gap() == 0.0);
        CHECK(planned.score_parts.size() == 2);
        CHECK(bounds_of(planned) == values_of(planned));
        CHECK(std::isnan(planned.bound())); // the two are no number
        const tranche::planned in_one = plan(problem, kept_mass_objective::portions_then_mass(problem), demands);
        CHECK(planned.score_parts[0].value == static_cast<double>(in_one.plan.portion_count()));
        CHECK(bounds_of(in_one) == std::vector<double>{in_one.bound()});
    }
    const planned without = plan(problem, count_then_mass, {at_least(9, "roast")});
    CHECK(without.stop == stop_reason::demand_impossible);
    CHECK_FALSE(without.gap() == 0.0);
}

TEST_CASE("a lexicographic score beyond the count states has a plan, a bound part by part and the gap of one part") {
    const profile meat = prism_of_42_cm();
    const cutting_problem problem(meat, steak_roast_fillet, {});
    const auto count_then_mass = lexicographic(portion_count_objective(problem), portion_mass_objective(problem));
    // Three roasts or more, four states, of 421 positions each.
    const std::vector<demand> demands{at_least(3, "roast")};
    const auto exact = best_path_with_demand(problem, count_then_mass, demands, {.most_entries = 4 * 421});
    CHECK(exact.outcome == demand_outcome::met);
    CHECK(exact.proven_optimal());
    CHECK(exact.states == 4);
    const auto relaxed = best_path_with_demand(problem, count_then_mass, demands, {.most_entries = 4 * 421 - 1});
    CHECK(relaxed.outcome == demand_outcome::met);
    CHECK(relaxed.states == 0);
    CHECK(relaxed.score == exact.score);
    CHECK_FALSE(relaxed.bound < exact.score);
    const tranche::planned planned = plan(problem, count_then_mass, demands, {.most_entries = 100});
    CHECK(planned.feasible());
    CHECK(std::isnan(planned.bound())); // the two are no number
    REQUIRE(planned.score_parts.size() == 2);
    const score_part& differs =
        planned.score_parts[planned.score_parts[0].bound == planned.score_parts[0].value ? 1 : 0];
    CHECK(planned.gap() == differs.bound - differs.value);
    CHECK(planned.proven_optimal() == (planned.gap() == 0.0));
    CHECK(planned.stop == (planned.gap() == 0.0 ? stop_reason::optimal : stop_reason::gap_left));
    // Demands that the best plan meets anyway, and impossible ones, need no states.
    CHECK(plan(problem, count_then_mass, {at_least(1, "steak")}, {.most_entries = 0}).proven_optimal());
    CHECK(plan(problem, count_then_mass, {at_least(5, "roast")}, {.most_entries = 0}).stop ==
          stop_reason::demand_impossible);
    // A common thickness takes several such searches.
    std::vector<cut_spec> one = steak_roast_fillet;
    one[0].thickness = {28_mm, 32_mm};
    one[0].one_thickness = true;
    const cutting_problem linked(meat, one, {});
    const auto by_parts = lexicographic(portion_count_objective(linked), portion_mass_objective(linked));
    const auto together = best_path_with_demand(linked, by_parts, demands, {.most_entries = 100});
    CHECK(together.outcome == demand_outcome::met);
    CHECK(together.score == best_path_with_demand(linked, by_parts, demands).score);
}

namespace {

/// A score of a user's own that is no number: the fewest slabs.
struct fewness {
    int slabs = 0;
    friend bool operator==(const fewness&, const fewness&) = default;
    friend bool operator<(const fewness& a, const fewness& b) { return b.slabs < a.slabs; }
    friend fewness operator+(const fewness& a, const fewness& b) { return {a.slabs + b.slabs}; }
    friend bool is_finite(const fewness&) { return true; }
};
struct fewest_slabs {
    using score_type = fewness;
    [[nodiscard]] fewness slab(std::size_t, std::size_t, std::size_t) const { return {1}; }
};

} // namespace

TEST_CASE("a score that is no number does not search more count states than it may, and says so") {
    const profile meat = prism_of_42_cm();
    const cutting_problem problem(meat, steak_roast_fillet, {});
    const std::vector<demand> demands{at_least(3, "roast")};
    const auto exact = best_path_with_demand(problem, fewest_slabs{}, demands);
    CHECK(exact.outcome == demand_outcome::met);
    CHECK(exact.score.slabs == 4);
    const auto none = best_path_with_demand(problem, fewest_slabs{}, demands, {.most_entries = 100});
    CHECK(none.outcome == demand_outcome::not_searched);
    CHECK_FALSE(none.proven_optimal());
    CHECK(none.states == 0);
    CHECK(none.shortfalls.empty());
    const auto free = best_path(problem, fewest_slabs{});
    CHECK(none.stretches == free.stretches);
    CHECK(none.bound == free.score);
    CHECK_FALSE(none.bound < exact.score); // a bound that holds
    const tranche::planned planned = plan(problem, fewest_slabs{}, demands, {.most_entries = 100});
    CHECK(planned.stop == stop_reason::demand_not_found);
    CHECK_FALSE(planned.feasible());
    CHECK_FALSE(planned.proven_optimal());
    CHECK(std::isnan(planned.gap()));
    CHECK_THAT(planned.why_not(), ContainsSubstring("no plan that meets all demands was found"));
    // Behind a number it is bounded by what it can reach by itself.
    const auto count_then_few = lexicographic(portion_count_objective(problem), fewest_slabs{});
    const auto behind = best_path_with_demand(problem, count_then_few, demands, {.most_entries = 100});
    REQUIRE(behind.outcome == demand_outcome::met);
    CHECK(std::get<1>(behind.bound.parts).slabs == 1);
    CHECK_FALSE(behind.bound < best_path_with_demand(problem, count_then_few, demands).score);
    CHECK(std::isnan(plan(problem, count_then_few, demands, {.most_entries = 100}).gap()));
}

TEST_CASE("searches are counted, however many a plan takes") {
    // A taper, so that slabs of one weight have many thicknesses.
    const profile meat = tabulate(
        measured_loin{.length = 30_cm, .stations = {{0_cm, 18_cm, 9_cm}, {30_cm, 11_cm, 5_cm}}}, 2_mm); // invented
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 50_mm}, .portion = {240_g, 330_g}};
    CHECK(most_portions(meat, steak).searched.states == 1);
    cut_spec one = steak;
    one.one_thickness = true;
    const planned together = most_portions(meat, one);
    CHECK(together.searched.states >= 3); // without it, and two halves of the thicknesses at the least
    CHECK(together.searched.evaluated() ==
          together.searched.positions * together.searched.options * together.searched.states);
    const auto capped = static_cast<std::int64_t>(together.plan.portion_count()) - 1;
    const planned fewer = most_portions(meat, steak, {}, {at_most(capped, 0)});
    CHECK(fewer.searched.states == static_cast<std::size_t>(capped) + 1);
    const planned both = most_portions(meat, one, {}, {at_most(capped, 0)});
    CHECK(both.searched.states >= 2 * (static_cast<std::size_t>(capped) + 1)); // more than the table of one search
    const few_settings few = fewest_settings(meat, {steak});
    CHECK(few.planned.searched.states > few.settings + 1);
    const std::size_t tilings = 20;
    const cutting_problem problem(meat, {steak}, {});
    const few_settings cut_short = fewest_settings(problem, portion_count_objective(problem),
                                                   portion_mass_objective(problem), {.most_passes = tilings});
    REQUIRE(cut_short.planned.stop == stop_reason::gap_left);
    CHECK(cut_short.planned.searched.states == tilings + 1); // and the plan without regard to settings
    CHECK(std::isnan(cut_short.planned.gap()));              // the settings are no part of this score
    CHECK(bounds_of(cut_short.planned) ==
          values_of(plan(problem, lexicographic(portion_count_objective(problem), portion_mass_objective(problem)))));
    const planned even = even_portions(meat, {steak});
    CHECK(even.searched.states >
          even.plan.portion_count() + 2); // one table, the plan of the most portions, and those that narrow in
    CHECK(even.gap() == 0.0);
}

} // namespace demand_test
