// Published cutting-stock problems, as orders over loins of an even face: every optimum, proven.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/orders.hpp>
#include <tranche/units/literals.hpp>

namespace cutting_stock_oracle {

using namespace tranche;
using namespace tranche::literals;

namespace {

struct stock {
    int length = 0, price = 0;
    std::int64_t count = 2000;
};
struct piece {
    int length = 0;
    std::int64_t count = 1;
};

/// A unit of length is a hundredth of a millimetre; the grid is that of the pieces' common divisor.
order<usd> order_of(const std::vector<stock>& stocks, const std::vector<piece>& pieces, int kerf) {
    order<usd> wanted;
    int step = 0;
    std::int64_t most = 0, dearest = 0;
    for (const piece& p : pieces) step = std::gcd(step, p.length), most += p.count;
    if (kerf > 0) step = 1; // what a grid allows for half a step is not to be used
    for (const stock& s : stocks) {
        dearest = std::max<std::int64_t>(dearest, s.price);
        const prism_loin box{.length = 0.01 * s.length * 1_mm, .face = {.width = 10_cm, .depth = 10_cm}};
        wanted.loins.push_back({.name = "stock " + std::to_string(wanted.loins.size() + 1),
                                .meat = loin_source(box, 0.01 * step * 1_mm),
                                .count = std::min(s.count, most),
                                .worth = money<usd>::from_value(s.price)});
    }
    for (const piece& p : pieces)
        wanted.lines.push_back({.cut = {.name = "piece " + std::to_string(wanted.lines.size() + 1),
                                        .thickness = 0.01 * p.length * 1_mm,
                                        .kerf = 0.01 * kerf * 1_mm},
                                .at_least = p.count,
                                .at_most = p.count,
                                .unfilled = money<usd>::from_value(static_cast<double>(10 * dearest))});
    return wanted;
}

/// Solves it, looks at every loin with `verify`, and returns what it cost.
double cost_of(const std::vector<stock>& stocks, const std::vector<piece>& pieces, int kerf) {
    const order<usd> wanted = order_of(stocks, pieces, kerf);
    const order_plan<usd> plan = plan_order(wanted);
    CHECK(plan.proven());
    CHECK(plan.ended == order_end::proven);
    CHECK(plan.filled());
    std::vector<std::int64_t> made(pieces.size());
    double cost = 0.0;
    for (const opened_loin& opened : plan.opened) {
        cost += static_cast<double>(opened.count) * wanted.loins[opened.loin].worth.value();
        const profile meat = *wanted.loins[opened.loin].meat();
        const cutting_plan cuts = lay_out(wanted, opened);
        const auto [specs, rules] = request_of(wanted, opened.loin);
        CHECK(verify(cuts, meat, specs, rules).empty());
        for (const slab& s : cuts.slabs)
            if (s.kind == slab_kind::portions) made[s.option] += opened.count;
    }
    for (std::size_t j = 0; j < pieces.size(); ++j) CHECK(made[j] >= pieces[j].count);
    CHECK(plan.value().value() == Approx(-cost));
    return cost;
}

std::vector<stock> at_their_length(const std::vector<int>& lengths) {
    std::vector<stock> stocks;
    for (const int length : lengths) stocks.push_back({length, length});
    return stocks;
}

} // namespace

// Inputs from public test sets of general one-dimensional solvers; optima computed with an arc-flow model and CBC.
TEST_CASE("prism loins of several lengths are opened at least cost") {
    // V1
    CHECK(cost_of(at_their_length({100, 120, 150}),
                  {{10}, {14}, {17}, {19, 2}, {24}, {29},    {32}, {33}, {36}, {38}, {40}, {50},
                   {54}, {55}, {63}, {66},    {71}, {77, 2}, {79}, {83}, {92}, {95}, {99}},
                  0) == 1280.0);
    // V3
    CHECK(cost_of(at_their_length({3000, 7000}), {{290}, {1496, 2}, {2751, 2}, {3351, 2}}, 5) == 17'000.0);
    // V4
    CHECK(cost_of(at_their_length({900, 1400, 1900, 2400, 2900, 3400, 3900, 4500}),
                  {{1768, 3}, {1764, 5}, {964, 2}, {864}, {1774}, {764}}, 4) == 19'900.0);
    // V5
    CHECK(cost_of(
              {{4000, 4000}},
              {{1022, 2}, {922, 3}, {512, 3}, {920, 5}, {510, 5}, {415, 2}, {315, 4}, {265, 2}, {925}, {515}, {215, 2}},
              4) == 20'000.0);
    // V6
    CHECK(cost_of({{6950, 6950, 8}, {7000, 3500, 2}}, {{2408, 8}}, 4) == 20'900.0);
}

TEST_CASE("a thousand pieces come out of the cheapest stocks") {
    // V10
    CHECK(cost_of(at_their_length({60000, 120000, 240000, 288000}),
                  {{66000, 50},
                   {64000, 100},
                   {63500, 200},
                   {57500, 200},
                   {37375, 100},
                   {36375, 100},
                   {21500, 200},
                   {7000, 200},
                   {6000, 200}},
                  0) == 48'180'000.0);
}

TEST_CASE("a bin more than their area says is what fifty pieces need") {
    // B1: BPPLIB (Delorme, Iori and Martello 2018), 50_50_0.2_0.7_9; 24 bins by area
    CHECK(cost_of({{50, 1}},
                  {{34, 2}, {33}, {32, 4}, {31, 2}, {30, 3}, {29, 3}, {28, 3}, {27, 2}, {26, 3}, {25, 4}, {24, 3},
                   {23, 2}, {22}, {20},    {18, 2}, {17},    {16, 3}, {14, 4}, {12},    {11, 2}, {10, 3}},
                  0) == 25.0);
}

// Two that users of such solvers reported as beaten by hand.
TEST_CASE("two bars are enough where a bar each half comes out by hand") {
    CHECK(cost_of({{6500, 1}}, {{1258, 2}, {3958, 2}}, 20) == 2.0);
    CHECK(cost_of({{6000, 1}}, {{3700, 2}, {2200}}, 0) == 2.0);
}

} // namespace cutting_stock_oracle
