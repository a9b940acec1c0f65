// Searches that are ended early: what they answer, that their bounds hold, and that work is counted alike everywhere.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <stop_token>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"
#include "optimise/three_cuts.hpp"

namespace search_limits_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Says stop when it has been asked so often.
stop_signal after(std::size_t asked) {
    return [left = asked]() mutable { return left == 0 || --left == 0; };
}

struct hard_request {
    std::string name;
    cutting_request request;
    search_limits search{};
};
/// One thickness for three cuts; demands beyond the count states; both; demands by count states.
std::vector<hard_request> hard_requests() {
    std::vector<cut_spec> linked = three_cuts();
    for (cut_spec& spec : linked) {
        spec.one_thickness = true;
        spec.portion.max = spec.portion.min + 30_g; // so that the first thicknesses tried do not do
    }
    const std::vector<demand> demands{exactly(4, "steak"), exactly(4, "fillet"), at_most(3, "end steak")};
    return {{"one thickness", {linked, {}}},
            {"relaxed", {three_cuts(), {}, demands}, {.most_entries = 0, .prove = true}},
            {"one thickness and demands", {linked, {}, demands}},
            {"count states", {three_cuts(), {}, demands}}};
}

} // namespace

TEST_CASE("a search that is ended early answers with a plan that keeps every limit and a bound that holds") {
    const profile meat = measured_strip(0.5_mm);
    for (const hard_request& hard : hard_requests()) {
        const planned whole = plan(meat, hard.request, most_portions(), hard.search);
        REQUIRE(whole.proven_optimal());
        CHECK(whole.searched.ended == search_end::by_itself);
        const double optimum = whole.score();
        std::size_t ended = 0, with_gap = 0, without = 0;
        double last = 0.0;
        for (const std::size_t passes : {1U, 2U, 3U, 5U, 8U, 13U, 21U, 34U, 55U, 89U, 144U, 233U, 1'000U, 5'000U}) {
            search_limits search = hard.search;
            search.most_passes = passes;
            const planned some = plan(meat, hard.request, most_portions(), search);
            CAPTURE(hard.name, passes);
            CHECK(verify(some.plan, meat, hard.request.cuts, hard.request.rules) == std::vector<std::string>{});
            CHECK(some == plan(meat, hard.request, most_portions(), search)); // no clock of time
            ended += some.searched.ended == search_end::out_of_work;
            CHECK(some.searched.ended != search_end::stopped);
            if (some.stop == stop_reason::demand_not_found) {
                ++without;
                CHECK(some.searched.ended == search_end::out_of_work);
                continue;
            }
            CHECK(some.score() <= optimum);
            CHECK(optimum <= some.bound());
            CHECK((some.gap() == 0.0) == some.proven_optimal());
            with_gap += some.stop == stop_reason::gap_left;
            if (some.searched.ended == search_end::by_itself && hard.name != "count states")
                CHECK(some.score() == optimum);
            last = some.score();
        }
        CHECK(last == optimum);
        CHECK(ended > 2);
        CHECK(with_gap + without > 0);
        if (hard.name == "one thickness") CHECK(with_gap > 2);
    }
}

TEST_CASE("a stop signal ends each search where it is asked, and a token of the standard library is one") {
    const profile meat = measured_strip(0.5_mm);
    for (const hard_request& hard : hard_requests()) {
        const double optimum = plan(meat, hard.request, most_portions(), hard.search).score();
        std::size_t stopped = 0;
        for (const std::size_t asked : {1U, 2U, 4U, 8U, 16U, 60U}) {
            search_limits search = hard.search;
            search.stop = after(asked);
            const planned some = plan(meat, hard.request, most_portions(), search);
            CAPTURE(hard.name, asked);
            stopped += some.searched.ended == search_end::stopped;
            CHECK(verify(some.plan, meat, hard.request.cuts, hard.request.rules) == std::vector<std::string>{});
            if (some.stop == stop_reason::demand_not_found) continue;
            CHECK(some.score() <= optimum);
            CHECK(optimum <= some.bound());
        }
        CHECK(stopped >= 3);
        std::stop_source source;
        search_limits search = hard.search;
        search.stop = source.get_token();
        CHECK(plan(meat, hard.request, most_portions(), search).proven_optimal());
        source.request_stop();
        CHECK(plan(meat, hard.request, most_portions(), search).searched.ended == search_end::stopped);
    }
}

TEST_CASE("plans found on the way are told, each better than the one before, and the last is the answer") {
    const profile meat = measured_strip(0.5_mm);
    std::size_t told_of = 0;
    for (const hard_request& hard : hard_requests()) {
        if (hard.name == "count states") continue; // which find one plan, at their end
        std::vector<double> scores;
        search_limits search = hard.search;
        search.found = [&](const incumbent& now) {
            REQUIRE(now.score.size() == 1);
            CAPTURE(hard.name);
            const cutting_plan told = lay_out(meat, hard.request.cuts, hard.request.rules, now.slabs);
            CHECK(verify(told, meat, hard.request.cuts, hard.request.rules) == std::vector<std::string>{});
            if (!scores.empty()) CHECK(scores.back() < now.score[0]);
            if (!now.bound.empty()) CHECK(now.score[0] <= now.bound[0]);
            scores.push_back(now.score[0]);
        };
        const planned best = plan(meat, hard.request, most_portions(), search);
        REQUIRE_FALSE(scores.empty());
        CHECK(scores.back() == best.score());
        told_of += scores.size();
    }
    CHECK(told_of > 4);
}

TEST_CASE("polishing that is ended early gives the best cuts so far, and as many passes give the same cuts") {
    const profile meat = measured_strip(2_mm);
    cutting_request request{three_cuts()};
    request.cuts[0].one_thickness = true;
    const auto even = lexicographic(best_by<portion_count_objective>(), best_by<evenness_objective>(330_g));
    const polished_cuts whole = polish(meat, request, even, 0.1_mm);
    std::size_t ended = 0;
    for (const std::size_t passes : {1U, 2U, 3U, 4U, 6U, 9U, 4'000U}) {
        const polished_cuts some = polish(meat, request, even, 0.1_mm, {.most_passes = passes});
        CAPTURE(passes);
        if (!some.planned.feasible()) continue;
        CHECK(verify(some.planned.plan, some.meat, request.cuts, request.rules) == std::vector<std::string>{});
        CHECK(some.planned.score_parts[0].value <= whole.planned.score_parts[0].value);
        CHECK(some == polish(meat, request, even, 0.1_mm, {.most_passes = passes}));
        ended += some.planned.searched.ended == search_end::out_of_work;
        if (passes == 4'000) CHECK(some == whole);
    }
    CHECK(ended > 0);
}

TEST_CASE("equal portions and the fewest settings that are ended early are plans with a bound that holds") {
    const profile meat = measured_strip(1_mm);
    std::vector<cut_spec> narrow = three_cuts(); // so that one setting does not do
    for (cut_spec& spec : narrow) spec.portion.max = spec.portion.min + 15_g;
    const auto check = [&](const cutting_request& request, const auto& want, auto best_of) {
        const planned whole = plan(meat, request, want);
        INFO(whole.searched.states);
        REQUIRE(whole.proven_optimal());
        std::size_t ended = 0, worse = 0;
        for (const std::size_t passes : {1U, 3U, 10U, 30U, 60U, 90U, 1'000'000U}) {
            const planned some = plan(meat, request, want, {.most_passes = passes});
            CAPTURE(passes);
            CHECK(verify(some.plan, meat, request.cuts, request.rules) == std::vector<std::string>{});
            CHECK(some.plan.portion_count() == whole.plan.portion_count());
            CHECK(best_of(some).value <= best_of(whole).value);
            CHECK(best_of(whole).value <= best_of(some).bound);
            ended += some.searched.ended == search_end::out_of_work;
            worse += best_of(some).value < best_of(whole).value;
            if (passes == 1'000'000) CHECK(some == whole);
        }
        CHECK(ended > 1);
        CHECK(worse > 0);
        CHECK(plan(meat, request, want, {.stop = after(2)}).searched.ended == search_end::stopped);
    };
    check({three_cuts()[0]}, even_portions(), [](const planned& p) { return p.score_parts.at(0); });
    check({narrow}, fewest_settings(), [](const planned& p) { return p.score_parts.at(1); });
}

TEST_CASE("a front that is ended early has the thickest plans of the whole one") {
    const profile meat = measured_strip(4_mm);
    const found_list<front_point> whole = count_waste_and_thickness_front(meat, three_cuts());
    REQUIRE(whole.size() > 4);
    CHECK(whole.ended == search_end::by_itself);
    std::size_t most = 0;
    for (const std::size_t passes : {1U, 50U, 100U, 200U, 300U, 100'000U}) {
        const found_list<front_point> some =
            count_waste_and_thickness_front(meat, three_cuts(), {}, {}, {.most_passes = passes});
        CAPTURE(passes, some.size());
        REQUIRE(some.size() <= whole.size());
        CHECK(std::equal(some.begin(), some.end(), whole.begin()));
        CHECK((some.ended == search_end::out_of_work) == (some.size() < whole.size()));
        most += some.size() > 0 && some.size() < whole.size();
    }
    CHECK(most > 0);
    CHECK(count_and_waste_front(meat, three_cuts(), {}, {}, {.stop = after(3)}).ended == search_end::stopped);
}

TEST_CASE("a front with evenness that is ended early has plans that some plan of the whole front is as good as") {
    const profile meat = measured_strip(4_mm);
    const std::vector<cut_spec> cuts{three_cuts()[0], three_cuts()[1]};
    const auto with = [&](const search_limits& search) {
        return count_waste_and_evenness_front(meat, cuts, {}, {.most_tables = 60}, {}, search);
    };
    const even_front whole = with({});
    REQUIRE(whole.points.size() > 3);
    CHECK(whole.ended == search_end::by_itself);
    std::size_t part = 0;
    for (const std::size_t passes : {1U, 30U, 100U, 300U, 600U, 1'000'000U}) {
        const even_front some = with({.most_passes = passes});
        CAPTURE(passes, some.points.size());
        CHECK((some.ended == search_end::out_of_work) == (some.spread_bound.count == even_front::unknown));
        for (const front_point& p : some.points) {
            CHECK(verify(p.plan, meat, cuts, {}) == std::vector<std::string>{});
            CHECK(std::any_of(whole.points.begin(), whole.points.end(), [&](const front_point& w) {
                return w.portions >= p.portions && w.waste <= p.waste && w.spread <= p.spread + whole.spread_bound;
            }));
        }
        part += some.ended == search_end::out_of_work && !some.points.empty();
        if (passes == 1'000'000) CHECK(some == whole);
    }
    CHECK(part > 0);
    CHECK(with({.stop = after(5)}).ended == search_end::stopped);
}

TEST_CASE("polishing of equal portions that is ended early gives portions no more equal than at its end") {
    const profile meat = measured_strip(2_mm);
    const cutting_request request{{three_cuts()[0]}};
    for (const mass& enough : {0_g, 40_g}) {
        const auto want = even_portions({}, enough);
        const polished_cuts whole = polish(meat, request, want, 0.1_mm);
        std::size_t ended = 0, worse = 0;
        for (const std::size_t passes : {100'000U, 1U, 2U, 4U, 8U, 20U, 200U}) {
            const polished_cuts some = polish(meat, request, want, 0.1_mm, {.most_passes = passes});
            CAPTURE(passes, enough / gram);
            CHECK(verify(some.planned.plan, some.meat, request.cuts, request.rules) == std::vector<std::string>{});
            CHECK(some == polish(meat, request, want, 0.1_mm, {.most_passes = passes}));
            CHECK(some.planned.plan.portion_count() == whole.planned.plan.portion_count());
            ended += some.planned.searched.ended == search_end::out_of_work;
            if (passes == 100'000) CHECK(some == whole);
            if (enough > mass{}) continue;
            // What is as equal as cuts on the grid can be expected to be, within two cells, goes by mass.
            const double two_cells =
                -2.0e9 * (to_mass(some.meat.total()) / kilogram) / static_cast<double>(some.meat.cells()) * 1.5;
            const double here = std::min(some.planned.score_parts.at(0).value, two_cells),
                         best = std::min(whole.planned.score_parts.at(0).value, two_cells);
            CHECK(here <= best);
            CHECK(best <= some.planned.score_parts.at(0).bound);
            worse += here < best;
        }
        CHECK(ended > 1);
        CHECK((worse > 0 || enough > mass{}));
        CHECK(polish(meat, request, want, 0.1_mm, {.stop = after(3)}).planned.searched.ended == search_end::stopped);
    }
}

TEST_CASE("a session whose searches are ended advises by the best plan of the rest so far, below a bound") {
    const profile meat = measured_strip(1_mm);
    std::vector<cut_spec> linked = three_cuts(), narrow = three_cuts();
    for (cut_spec& spec : linked) spec.one_thickness = true, spec.portion.max = spec.portion.min + 30_g;
    for (cut_spec& spec : narrow) spec.portion.max = spec.portion.min + 15_g;
    const auto check = [&](const cutting_request& request, const auto& want) {
        const cutting_session whole(meat, request, want);
        REQUIRE(whole.next());
        REQUIRE_FALSE(whole.score_parts().empty());
        CHECK(whole.ended() == search_end::by_itself);
        std::size_t ended = 0, worse = 0;
        for (const std::size_t passes : {1U, 3U, 10U, 30U, 90U, 100'000U}) {
            const cutting_session some(meat, request, want, cutting_spreads{}, {.most_passes = passes});
            CAPTURE(passes);
            REQUIRE(some.next());
            ended += some.ended() == search_end::out_of_work;
            const cutting_plan rest =
                lay_out(meat, request.cuts, request.rules, {some.plan_of_rest().begin(), some.plan_of_rest().end()});
            CHECK(verify(rest, meat, request.cuts, request.rules) == std::vector<std::string>{});
            if (some.score_parts().empty()) continue; // there was none yet
            const score_part here = some.score_parts().back(), best = whole.score_parts().back();
            CHECK(here.value <= best.value);
            CHECK(best.value <= here.bound);
            worse += here.value < best.value;
            if (passes == 100'000) CHECK(here == best);
        }
        CHECK(ended > 0);
        const cutting_session stopped(meat, request, want, cutting_spreads{}, {.stop = [] { return true; }});
        CHECK(stopped.ended() == search_end::stopped);
        CHECK(stopped.next());
        return worse;
    };
    CHECK(check({linked}, most_portions()) > 0);
    CHECK(check({{three_cuts()[0]}}, even_portions()) > 0);
    CHECK(check({narrow}, fewest_settings()) > 0);
}

TEST_CASE("what-ifs leave out the limits that were not looked at when a signal came") {
    const profile meat = measured_strip(2_mm);
    const cutting_request request{three_cuts()};
    const auto all = limit_costs(meat, request, most_portions());
    const auto some = limit_costs(meat, request, most_portions(), detail::small_steps, {.stop = after(4)});
    REQUIRE(some.size() < all.size());
    CHECK(std::equal(some.begin(), some.end(), all.begin()));
    const auto stopped = [] { return true; };
    CHECK(one_more_portion(meat, request, most_portions(), {}, {.stop = stopped}).empty());
}

TEST_CASE("what a stop function throws leaves the search") {
    const profile meat = measured_strip(0.5_mm);
    const hard_request hard = hard_requests().front();
    search_limits search;
    search.stop = []() -> bool { throw std::string("enough"); };
    CHECK_THROWS_AS(plan(meat, hard.request, most_portions(), search), std::string);
}

} // namespace search_limits_test
