// What must hold for any order: more loins never cost, more demand never gains, parts never beat the whole, threads change nothing.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/optimise/plans/plans.hpp>

#include "orders/batches.hpp"
#include "orders/two_loins.hpp"

namespace plan_order_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

template <class W>
concept taken_by_orders = additive_want<W>;

std::string error_of(const order<usd>& wanted) {
    try {
        static_cast<void>(plan_order(wanted));
    } catch (const invalid_input& bad) {
        return bad.field();
    }
    return "none";
}

/// The same order in another currency, as it were: every amount so many times as large.
order<usd> times(order<usd> wanted, double factor) {
    for (order_loin<usd>& loin : wanted.loins) loin.worth *= factor;
    for (order_line<usd>& line : wanted.lines) {
        line.price.each *= factor;
        line.price.by_weight *= factor;
        line.unfilled *= factor;
        line.carry_over *= factor;
        line.surplus *= factor;
    }
    for (const destination to : all_destinations)
        if (wanted.by_products[to]) *wanted.by_products[to] *= factor;
    wanted.labour = {.slab = factor * wanted.labour.slab,
                     .portion = factor * wanted.labour.portion,
                     .trimmed = factor * wanted.labour.trimmed};
    if (wanted.remnant) wanted.remnant->value *= factor;
    return wanted;
}

/// Two taped loins (invented) of meat that is so many times as dense, with windows and prices by weight to match.
order<usd> of_density(double factor) {
    tissue_densities dense = densities_at_4_celsius();
    for (const tissue t : all_tissues) dense[t] *= factor;
    order<usd> wanted;
    for (const double width : {20.0, 23.0})
        wanted.loins.push_back(
            {.name = "loin of " + std::to_string(width),
             .meat = tabulate(measured_loin{.length = 20.0 * centimetre,
                                            .stations = {{.width = width * centimetre, .depth = 7.0 * centimetre}}},
                              5.0 * millimetre, dense),
             .worth = money<usd>::from_value(2.0 * width)});
    const auto line = [&](const char* name, double least, double most, double each) {
        wanted.lines.push_back({.cut = {.name = name,
                                        .thickness = {1.0 * centimetre, 5.0 * centimetre},
                                        .portion = {least * factor * kilogram, most * factor * kilogram}},
                                .at_least = 6,
                                .price = {.each = money<usd>::from_value(each)},
                                .unfilled = money<usd>::from_value(2.0),
                                .surplus = money<usd>::from_value(-1.0)});
    };
    line("small", 0.15, 0.26, 5.0);
    line("large", 0.30, 0.42, 8.5);
    wanted.by_products[destination::grind] = unit_price<usd>::from_value(8.0 / factor);
    return wanted;
}

} // namespace

static_assert(taken_by_orders<decltype(best_value(price_list<usd>{}))>);
static_assert(!taken_by_orders<decltype(least_giveaway())>, "of two scores the first decides: they do not add up");

TEST_CASE("a loin more never costs and a demand more never gains, within what is proven") {
    for (std::uint64_t seed = 0; seed < rounds(4, 200); ++seed) {
        dice d(seed + 2'200'000);
        order<usd> wanted = random_order(d, d.whole(2, 4), 5, 14);
        for (order_loin<usd>& loin : wanted.loins)
            if (loin.opening == loin_opening::always) loin.opening = loin_opening::if_it_pays;
        const order_plan<usd> plan = plan_order(wanted);
        CAPTURE(seed);
        CHECK(plan.value_billionths <= plan.bound_billionths);

        order<usd> fewer = wanted;
        fewer.loins.pop_back();
        CHECK(plan_order(fewer).value_billionths <= plan.bound_billionths);

        order<usd> more = wanted;
        more.lines[0].at_least += 2;
        if (more.lines[0].at_most < more.lines[0].at_least) more.lines[0].at_most = more.lines[0].at_least;
        // Each portion more is paid for, so without that pay it cannot gain.
        const double paid = static_cast<double>(more.lines[0].at_most == demand::any_number
                                                    ? 0
                                                    : more.lines[0].at_most - wanted.lines[0].at_most) *
                            (more.lines[0].price.each.value() + std::abs(more.lines[0].surplus.value()));
        CHECK(plan_order(more).value().value() <= plan.bound().value() + paid + 1e-9);
    }
}

TEST_CASE("two halves of a batch with demands of their own never beat the whole") {
    for (std::uint64_t seed = 0; seed < rounds(3, 100); ++seed) {
        dice d(seed + 2'300'000);
        order<usd> wanted = random_order(d, 4, 5, 12);
        for (order_line<usd>& line : wanted.lines) { // what is made in both halves is worth the same together
            line.at_least = line.at_most = 2 * (line.at_least / 2);
            line.carried = 0;
            line.surplus = money<usd>{};
        }
        order<usd> halves[2] = {wanted, wanted};
        for (std::size_t h = 0; h < 2; ++h) {
            halves[h].loins = {wanted.loins[2 * h], wanted.loins[2 * h + 1]};
            for (order_line<usd>& line : halves[h].lines) line.at_least = line.at_most = line.at_least / 2;
        }
        CAPTURE(seed);
        CHECK(plan_order(halves[0]).value_billionths + plan_order(halves[1]).value_billionths <=
              plan_order(wanted).bound_billionths);
    }
}

TEST_CASE("a kind of three loins is three loins alike") {
    for (std::uint64_t seed = 0; seed < rounds(3, 100); ++seed) {
        dice d(seed + 2'400'000);
        order<usd> kinds = random_order(d, 2, 5, 10);
        kinds.loins[1].count = 3;
        order<usd> singles = kinds;
        singles.loins[1].count = 1;
        for (int copy = 2; copy <= 3; ++copy) {
            singles.loins.push_back(singles.loins[1]);
            singles.loins.back().name += " again " + std::to_string(copy);
        }
        const order_plan<usd> one = plan_order(kinds), other = plan_order(singles);
        CAPTURE(seed);
        CHECK(one.value_billionths <= other.bound_billionths);
        CHECK(other.value_billionths <= one.bound_billionths);
        if (one.proven() && other.proven()) CHECK(one.value_billionths == other.value_billionths);
    }
}

TEST_CASE("money that counts k times as much leaves an order its plan and is k times the value") {
    for (std::uint64_t seed = 0; seed < rounds(3, 100); ++seed) {
        dice d(seed + 2'450'000);
        const order<usd> wanted = random_order(d, 3, 5, 12);
        const order_plan<usd> plan = plan_order(wanted);
        for (const double k : {0.5, 8.0, 100.0}) {
            const order_plan<usd> scaled = plan_order(times(wanted, k));
            CAPTURE(seed, k);
            REQUIRE(plan.proven());
            CHECK(scaled.proven());
            CHECK(scaled.value().value() == Approx(k * plan.value().value()).margin(1e-6 * k));
            // Its cuts are a best plan of the other order too, should there be several.
            CHECK(value_on_paper(wanted, scaled) == Approx(plan.value().value()).margin(1e-6));
        }
    }
    const order_plan<usd> plan = plan_order(two_loins<usd>()), scaled = plan_order(times(two_loins<usd>(), 4.0));
    CHECK(scaled.opened.size() == 2); // one plan is best: worked by hand
    CHECK(scaled.value_billionths == 4 * plan.value_billionths);
    for (std::size_t i = 0; i < 2; ++i) CHECK(scaled.opened[i].portions == plan.opened[i].portions);
}

TEST_CASE("meat that is k times as dense is cut alike for windows k times as heavy and prices by weight to match") {
    const order_plan<usd> plan = plan_order(of_density(1.0));
    REQUIRE(plan.proven());
    CHECK_FALSE(plan.opened.empty());
    for (const double k : {0.5, 4.0}) {
        const order_plan<usd> scaled = plan_order(of_density(k));
        CAPTURE(k);
        CHECK(scaled.proven());
        CHECK(scaled.value().value() == Approx(plan.value().value()).margin(1e-5));
        REQUIRE(scaled.opened.size() == plan.opened.size());
        for (std::size_t i = 0; i < plan.opened.size(); ++i) CHECK(scaled.opened[i].cuts == plan.opened[i].cuts);
    }
}

TEST_CASE("an answer is the same to the last bit whatever the number of threads") {
    for (std::uint64_t seed = 0; seed < rounds(1, 20); ++seed) {
        dice d(seed + 2'500'000);
        const order<usd> wanted = random_order(d, 40, 10, 40);
        const order_plan<usd> one = plan_order(wanted, {.threads = 1}), three = plan_order(wanted, {.threads = 3});
        CAPTURE(seed);
        CHECK(one == three);
        CHECK(value_on_paper(wanted, one) == Approx(one.value().value()).margin(1e-6));
    }
}

TEST_CASE(
    "a changed order that starts at the prices of the earlier plan takes fewer passes for a plan and a bound as good") {
    std::size_t cold_passes = 0, warm_passes = 0;
    for (std::uint64_t seed = 1; seed < rounds(3, 30); ++seed) {
        dice d(seed + 2'480'000);
        order<usd> wanted = random_order(d, 100, 8, 16);
        const order_limits enough{.relative_gap = 1e-3, .most_loin_plans = 6'000};
        const order_plan<usd> earlier = plan_order(wanted, enough);
        wanted.lines[0].at_least += 3;
        if (wanted.lines[0].at_most != demand::any_number) wanted.lines[0].at_most += 3;
        wanted.loins[7].meat = wanted.loins[8].meat; // another loin came
        order_limits from_there = enough;
        from_there.first_prices = earlier.line_prices();
        const order_plan<usd> cold = plan_order(wanted, enough), warm = plan_order(wanted, from_there);
        CAPTURE(seed, cold.relative_gap(), warm.relative_gap());
        CHECK(warm.value_billionths <= cold.bound_billionths);
        CHECK(cold.value_billionths <= warm.bound_billionths);
        CHECK(warm.relative_gap() <= cold.relative_gap() + enough.relative_gap);
        CHECK(warm.bound().value() == Approx(cold.bound().value()).epsilon(1e-6));
        CHECK(value_on_paper(wanted, warm) == Approx(warm.value().value()).margin(1e-6));
        from_there.threads = 2;
        CHECK(plan_order(wanted, from_there) == warm);
        cold_passes += cold.passes;
        warm_passes += warm.passes;
    }
    CHECK(3 * warm_passes <= 2 * cold_passes);
}

TEST_CASE("whatever prices planning starts at, its bound and its value hold") {
    dice d(2'490'000);
    const order<usd> wanted = random_order(d, 4, 5, 12);
    const order_plan<usd> cold = plan_order(wanted);
    REQUIRE(cold.proven());
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max(),
                           least = std::numeric_limits<std::int64_t>::min();
    for (const std::vector<std::int64_t>& prices :
         {std::vector<std::int64_t>(9, 0), std::vector<std::int64_t>(4, most), std::vector<std::int64_t>(4, least),
          std::vector<std::int64_t>{1'000'000'000}}) {
        const order_plan<usd> warm = plan_order(wanted, {.first_prices = prices});
        CAPTURE(prices.size(), prices[0]);
        CHECK(warm.bound_billionths >= cold.value_billionths);
        CHECK(warm.value_billionths <= cold.value_billionths);
        CHECK(warm.proven());
        CHECK(value_on_paper(wanted, warm) == Approx(warm.value().value()).margin(1e-6));
    }
}

TEST_CASE("what a plan says is so however early it is stopped") {
    for (std::uint64_t seed = 0; seed < rounds(3, 60); ++seed) {
        dice d(seed + 2'600'000);
        const order<usd> wanted = random_order(d, 6, 8, 20);
        const order_plan<usd> best = plan_order(wanted);
        std::size_t asked = 0;
        const std::size_t after = d.whole(0, 12);
        std::int64_t least_bound = std::numeric_limits<std::int64_t>::max();
        const order_plan<usd> stopped = plan_order(wanted, {.stop = [&] { return ++asked > after; },
                                                            .progress =
                                                                [&](const order_progress& p) {
                                                                    CHECK(p.bound <= least_bound);
                                                                    least_bound = p.bound;
                                                                }});
        CAPTURE(seed, after);
        CHECK(stopped.value_billionths <= best.bound_billionths);
        CHECK(best.value_billionths <= stopped.bound_billionths);
        CHECK(value_on_paper(wanted, stopped) == Approx(stopped.value().value()).margin(1e-6));
        if (!stopped.proven()) CHECK(stopped.ended == order_end::stopped);
        const order_plan<usd> short_work = plan_order(wanted, {.most_loin_plans = 6});
        CHECK(short_work.loin_plans <= 6);
        CHECK(value_on_paper(wanted, short_work) == Approx(short_work.value().value()).margin(1e-6));
    }
}

TEST_CASE("exchanges can be stopped between two passes") {
    dice d(2'650'003);
    const order<usd> wanted = random_order(d, 25, 10, 20);
    const order_batch batch(wanted);
    std::size_t passes = 0, asked = 0, passes_when_asked = 0, stop_at = 0;
    std::vector<std::size_t> between; // times when it is asked with no pass made since
    const auto planned = [&] {
        passes = asked = passes_when_asked = 0;
        return plan_order(
            wanted,
            {.most_loin_plans = 100'000,
             .stop =
                 [&] {
                     ++asked;
                     if (passes == passes_when_asked && stop_at == 0) between.push_back(asked);
                     passes_when_asked = passes;
                     return stop_at != 0 && asked >= stop_at;
                 }},
            [&](std::span<const std::int64_t> prices, std::span<const std::uint32_t> loins, order_offers& offers) {
                ++passes;
                batch.offers(prices, loins, offers);
            },
            [&](std::span<const std::int64_t> prices, std::size_t loin) { return batch.cut_at(prices, loin); });
    };
    const order_plan<usd> best = planned();
    REQUIRE(between.size() > 3);
    for (const std::size_t when : {between.front(), between[between.size() / 2]}) {
        stop_at = when;
        const order_plan<usd> stopped = planned();
        CAPTURE(when, asked);
        CHECK(passes == passes_when_asked); // no pass is made once it is stopped
        CHECK((stopped.proven() || stopped.ended == order_end::stopped));
        CHECK(stopped.value_billionths <= best.bound_billionths);
        CHECK(best.value_billionths <= stopped.bound_billionths);
        CHECK(value_on_paper(wanted, stopped) == Approx(stopped.value().value()).margin(1e-6));
    }
    const order_plan<usd> one_pass = plan_order(wanted, {.most_loin_plans = 3}); // an answer needs one over all loins
    CHECK(one_pass.loin_plans == wanted.loins.size());
    CHECK((one_pass.proven() || one_pass.ended == order_end::out_of_work));
}

TEST_CASE("listing the plans of a loin for the proof can be stopped") {
    dice d(2'660'000);
    order<usd> wanted = random_order(d, 1, 60, 60);
    wanted.loins[0].without.clear();
    for (order_line<usd>& line : wanted.lines) line.cut.thickness.max = unlimited<length>(), line.cut.portion = {};
    const order_batch batch(wanted);
    REQUIRE(batch.lists_plans());
    const std::vector<std::int64_t> prices(wanted.lines.size());
    constexpr std::size_t most = 400'000;
    std::size_t labels = most, asked = 0;
    const std::int64_t any = 1'000'000'000'000;
    CHECK_FALSE(batch.plans_within(prices, 0, any, labels, [&] { return ++asked == 3; }));
    CHECK(asked == 3);
    CHECK(labels > most / 2);
}

TEST_CASE("orders that are impossible in themselves are refused by name") {
    dice d(2'700'000);
    const order<usd> good = random_order(d, 2, 6, 8);
    REQUIRE(error_of(good) == "none");
    const auto broken = [&](auto&& change) {
        order<usd> bad = good;
        change(bad);
        return error_of(bad);
    };
    CHECK(broken([](order<usd>& o) { o.loins.clear(); }) == "loins");
    CHECK(broken([](order<usd>& o) { o.lines.clear(); }) == "lines");
    CHECK(broken([](order<usd>& o) { o.loins[1].name = o.loins[0].name; }) == "loins[1].name");
    CHECK(broken([](order<usd>& o) { o.loins[1].name.clear(); }) == "loins[1].name");
    CHECK(broken([](order<usd>& o) { o.loins[0].meat = {}; }) == "loin 1: meat");
    CHECK(broken([](order<usd>& o) { o.loins[0].count = 0; }) == "loin 1: count");
    CHECK(broken([](order<usd>& o) { o.loins[0].worth = money<usd>::from_value(std::nan("")); }) == "loin 1: worth");
    CHECK(broken([](order<usd>& o) { o.loins[0].without = {"nobody"}; }) == "loin 1: without");
    CHECK(broken([](order<usd>& o) { o.lines[0].at_least = -1; }) == "cut A: at_least");
    CHECK(broken([](order<usd>& o) {
              o.lines[0].unfilled = money<usd>::from_value(5.0);
              o.lines[0].at_least = o.lines[0].at_most = 1'000'000'000'000;
          }) == "cut A: at_least");
    CHECK(broken([](order<usd>& o) { // more than are told apart, even where none of them costs anything
              o.lines[0] = {.cut = o.lines[0].cut, .at_least = 2'000'000'000'000};
          }) == "cut A: at_least");
    CHECK(broken([](order<usd>& o) { o.lines[0].at_least = 5, o.lines[0].at_most = 4; }) == "cut A: at_most");
    CHECK(broken([](order<usd>& o) { o.lines[0].unfilled = money<usd>::from_value(-1.0); }) == "cut A: unfilled");
    CHECK(broken([](order<usd>& o) {
              o.lines[0].at_least = o.lines[0].at_most = 1;
              o.lines[0].surplus = o.lines[0].price.each + o.lines[0].unfilled + money<usd>::from_value(1.0);
          }) == "cut A: surplus");
    CHECK(broken([](order<usd>& o) { o.lines[0].cut.thickness = {}; }) == "cut A: thickness.min");
    CHECK(broken([](order<usd>& o) { o.lines[1].cut.name = o.lines[0].cut.name; }) == "name");
    CHECK(broken([](order<usd>& o) { o.loins[1].rules = cutting_rules{.facing = 100.0 * metre}; }) == "loin 2: facing");
}

TEST_CASE("a refusal of an order says what was given and what is expected") {
    dice d(2'700'000);
    const order<usd> good = random_order(d, 2, 6, 8);
    const auto said = [&](auto&& change) {
        order<usd> bad = good;
        change(bad);
        try {
            static_cast<void>(plan_order(bad));
        } catch (const invalid_input& refused) {
            return std::string(refused.what());
        }
        return std::string("none");
    };
    CHECK(said([](order<usd>& o) { o.loins.clear(); }) == "loins: got none, expected at least one loin");
    CHECK(said([](order<usd>& o) { o.lines.clear(); }) == "lines: got none, expected at least one line");
    CHECK(said([](order<usd>& o) { o.loins[0].worth = money<usd>::from_value(std::nan("")); }) ==
          "loin 1: worth: got nan, expected a finite value below 4e9");
    CHECK(said([](order<usd>& o) { o.lines[0].at_least = -1; }) ==
          "cut A: at_least: got -1, expected zero or more portions");
    CHECK(said([](order<usd>& o) { o.loins[1].name = "loin 1"; }) ==
          "loins[1].name: got \"loin 1\" twice, expected a name of its own for each loin");
}

TEST_CASE("loins of three grams and of three tonnes are planned like others") {
    order<usd> wanted = two_loins<usd>();
    wanted.loins[0].meat = tabulate(
        prism_loin{.length = 10.0 * centimetre, .face = {.width = 6.0 * millimetre, .depth = 5.0 * millimetre}},
        1.0 * millimetre);
    wanted.loins[1].meat = tabulate(
        prism_loin{.length = 3.0 * metre, .face = {.width = 1.0 * metre, .depth = 1.0 * metre}}, 1.0 * centimetre);
    const order_plan<usd> plan = plan_order(wanted);
    CHECK(to_mass(wanted.loins[0].meat()->total()) < 4.0 * gram);
    CHECK(to_mass(wanted.loins[1].meat()->total()) > 2000.0 * kilogram);
    // By thickness alone the small one gives two of each, 28.00 for 12.00. At 5.00 a kilogram the large one is worth most as
    // loose meat, less its 8.00, and one thick portion is missing at 2.00.
    const double kilograms = to_mass(wanted.loins[1].meat()->total()).value();
    CHECK(plan.value().value() == Approx(28.0 - 12.0 + 5.0 * kilograms - 8.0 - 2.0).margin(0.01));
    CHECK(plan.proven());
    CHECK(value_on_paper(wanted, plan) == Approx(plan.value().value()).margin(1e-5));
}

TEST_CASE("a product that no loin gives is short by all of it, and the plan says so") {
    dice d(2'800'000);
    order<usd> wanted = random_order(d, 3, 6, 10);
    wanted.lines.push_back(
        {.cut = {.name = "giant", .thickness = 5.0 * metre}, .at_least = 4, .unfilled = money<usd>::from_value(7.0)});
    const order_plan<usd> plan = plan_order(wanted);
    CHECK(plan.lines.back().made == 0);
    CHECK(plan.lines.back().unfilled == 4);
    CHECK(plan.lines.back().most == 0);
    CHECK_FALSE(plan.filled());
    CHECK(value_on_paper(wanted, plan) == Approx(plan.value().value()).margin(1e-6));
}

} // namespace plan_order_laws
