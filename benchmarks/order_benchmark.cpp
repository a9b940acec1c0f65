// Orders over 20 to 100,000 unlike loins: time, gap and memory, against cutting loin after loin, and against CBC where that ends.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include <coin/Cbc_C_Interface.h>
#include <sys/resource.h>

#include <tranche/optimise/plans/compact_problem.hpp>

#include "in_turn.hpp"
#include "order_instance.hpp"
#include "ratios.hpp"

namespace {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_benchmark;

double most_megabytes() {
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    return static_cast<double>(used.ru_maxrss) / 1024.0;
}

/// Of all threads, which other work on the machine inflates less than the time on the wall.
double processor_seconds() {
    rusage used{};
    getrusage(RUSAGE_SELF, &used);
    return static_cast<double>(used.ru_utime.tv_sec) + 1e-6 * static_cast<double>(used.ru_utime.tv_usec);
}

/// What a cook does who takes loin after loin: each is cut for what is still wanted, at what a missing portion costs, and the next
/// one is taken as long as that pays.
struct by_hand {
    double value = 0.0;
    std::int64_t unfilled = 0;
};
by_hand loin_after_loin(const order<usd>& wanted, const order_batch& batch) {
    std::vector<std::int64_t> left;
    for (const order_line<usd>& line : wanted.lines) left.push_back(line.at_least);
    by_hand result;
    order_offers offers;
    std::vector<std::int64_t> prices(left.size());
    const auto billionths = [](money<usd> m) { return static_cast<std::int64_t>(std::llround(m.value() * 1e9)); };
    for (std::uint32_t i = 0; i < wanted.loins.size(); ++i) {
        for (std::size_t j = 0; j < left.size(); ++j)
            prices[j] = billionths(left[j] > 0 ? wanted.lines[j].unfilled : wanted.lines[j].surplus);
        batch.offers(prices, std::vector<std::uint32_t>{i}, offers);
        std::int64_t worth = offers.worth[0];
        for (std::size_t j = 0; j < left.size(); ++j) {
            const std::int64_t taken = std::min<std::int64_t>(left[j], offers.portions[j]);
            worth += taken * billionths(wanted.lines[j].unfilled) +
                     (offers.portions[j] - taken) * billionths(wanted.lines[j].surplus);
        }
        if (worth <= 0) continue;
        result.value += 1e-9 * static_cast<double>(offers.worth[0]);
        for (std::size_t j = 0; j < left.size(); ++j) {
            const std::int64_t taken = std::min<std::int64_t>(left[j], offers.portions[j]);
            left[j] -= taken;
            result.value += static_cast<double>(offers.portions[j] - taken) * wanted.lines[j].surplus.value();
        }
    }
    for (std::size_t j = 0; j < left.size(); ++j) {
        result.value -= static_cast<double>(left[j]) * wanted.lines[j].unfilled.value();
        result.unfilled += left[j];
    }
    return result;
}

/// The arc-flow of all loins in CBC, for as long as it may take; its value, and its bound.
std::pair<double, double> by_cbc(const order<usd>& wanted, double seconds_allowed) {
    std::vector<CoinBigIndex> starts{0};
    std::vector<int> rows;
    std::vector<double> entries, most, values, right(wanted.lines.size(), 0.0);
    std::vector<char> whole;
    const auto column = [&](const std::vector<std::pair<int, double>>& in, double upper, double value, bool integer) {
        for (const auto& [row, entry] : in) rows.push_back(row), entries.push_back(entry);
        starts.push_back(static_cast<CoinBigIndex>(rows.size()));
        most.push_back(upper);
        values.push_back(value);
        whole.push_back(integer ? 1 : 0);
    };
    double constant = 0.0;
    for (std::size_t j = 0; j < wanted.lines.size(); ++j) {
        const order_line<usd>& line = wanted.lines[j];
        constant -= static_cast<double>(line.at_least) * line.unfilled.value();
        column({{static_cast<int>(j), -1.0}}, static_cast<double>(line.at_least), line.unfilled.value(), false);
        column({{static_cast<int>(j), -1.0}}, 1e5, line.surplus.value(), false);
    }
    const price_list<usd> prices = prices_of(wanted);
    for (std::size_t i = 0; i < wanted.loins.size(); ++i) {
        const auto meat = wanted.loins[i].meat();
        const auto [specs, rules] = request_of(wanted, i);
        const cutting_problem problem(*meat, specs, rules);
        const worth_objective worth(problem, prices);
        const int first = static_cast<int>(right.size());
        right.resize(right.size() + problem.cells() - problem.start() + 1);
        const auto node = [&](std::size_t p) { return first + static_cast<int>(p - problem.start()); };
        const double facing = 1e-9 * static_cast<double>(detail::worth_of_facing(problem, prices));
        column({{node(problem.start()), -1.0}, {node(problem.cells()), 1.0}}, 1.0,
               facing - wanted.loins[i].worth.value(), true);
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            for (std::size_t from = problem.start(); from < problem.cells(); ++from)
                for (std::size_t to = from + 1; to <= problem.cells(); ++to) {
                    if (!problem.allows(o, from, to)) continue;
                    std::vector<std::pair<int, double>> in{{node(from), 1.0}, {node(to), -1.0}};
                    if (problem.is_portion(o))
                        in.emplace_back(static_cast<int>(o - problem.loose_count()), problem.pieces(o));
                    column(in, 1.0, 1e-9 * static_cast<double>(worth.opening(o, from) + worth.closing(o, to)), true);
                }
    }
    const std::unique_ptr<Cbc_Model, decltype(&Cbc_deleteModel)> owned(Cbc_newModel(), &Cbc_deleteModel);
    Cbc_Model* const model = owned.get();
    Cbc_setParameter(model, "log", "0");
    Cbc_setParameter(model, "sec", std::to_string(seconds_allowed).c_str());
    const std::vector<double> least(values.size(), 0.0);
    Cbc_loadProblem(model, static_cast<int>(values.size()), static_cast<int>(right.size()), starts.data(), rows.data(),
                    entries.data(), least.data(), most.data(), values.data(), right.data(), right.data());
    Cbc_setObjSense(model, -1.0);
    for (std::size_t c = 0; c < values.size(); ++c)
        if (whole[c] != 0) Cbc_setInteger(model, static_cast<int>(c));
    Cbc_solve(model);
    return {Cbc_getObjValue(model) + constant, Cbc_getBestPossibleObjValue(model) + constant};
}

} // namespace

int main(int argc, char** argv) {
    const bool markdown = start(argc, argv);
    const bool all = std::getenv("TRANCHE_LONG_BENCHMARKS") != nullptr;
    struct instance {
        std::size_t loins, products;
        length step;
    };
    std::vector<instance> instances{{20, 5, 1_mm},    {20, 20, 1_mm},     {100, 5, 1_mm},      {100, 20, 1_mm},
                                    {1000, 20, 1_mm}, {10'000, 20, 1_mm}, {10'000, 20, 0.5_mm}};
    if (all) instances.push_back({100'000, 20, 1_mm});

    table orders("Orders over unlike loins, two threads: seconds for all of it, and what loin after loin would miss",
                 {"loins", "products", "mm", "seconds", "gap, %", "kB a loin", "MB at most", "loin after loin, s",
                  "its time over ours", "costs more, %", "missing", "we miss"});
    std::vector<double> sizes, times_taken;
    for (const instance& of : instances) {
        const std::size_t loins = of.loins, products = of.products;
        const length step = of.step;
        const order<usd> wanted = invented_order(loins, products, step);
        order_plan<usd> plan;
        double kilobytes = 0.0;
        const double ours = seconds([&] {
            const order_batch batch(wanted, 2);
            kilobytes = static_cast<double>(batch.bytes()) / 1e3 / static_cast<double>(loins);
            plan = plan_order(wanted, batch, {.threads = 2});
            return plan.value_billionths;
        });
        by_hand greedy;
        const double theirs = seconds([&] {
            const order_batch batch(wanted, 2);
            greedy = loin_after_loin(wanted, batch);
            return greedy.value;
        });
        std::int64_t unfilled = 0;
        for (const filled_line& line : plan.lines) unfilled += line.unfilled;
        orders.add({std::to_string(loins), std::to_string(products), number(step / (1_mm), 1), number(ours, 2),
                    number(100.0 * plan.relative_gap(), 4), number(kilobytes, 1), number(most_megabytes(), 0),
                    number(theirs, 2), times(theirs / ours),
                    number(100.0 * (greedy.value / plan.value().value() - 1.0), 2), std::to_string(greedy.unfilled),
                    std::to_string(unfilled)});
        if (loins >= 1000 && step == 1_mm) sizes.push_back(static_cast<double>(loins)), times_taken.push_back(ours);
    }
    orders.print(std::cout, markdown);
    std::cout << "\nTime grows as loins to the power " << number(exponent(sizes, times_taken), 2) << ".\n";

    table changes("1,000 loins and 20 products planned again after a change, from nothing and from the earlier prices, "
                  "two threads; "
                  "processor seconds of all threads",
                  {"what changes", "passes from nothing", "from prices", "ratio", "s from nothing", "s from prices",
                   "ratio of seconds", "gap from nothing, %", "gap from prices, %"});
    const order<usd> before = invented_order(1000, 20, 1_mm);
    const order_plan<usd> earlier = plan_order(before, {.threads = 2});
    for (const bool of_order : {true, false}) {
        order<usd> after = before;
        if (of_order)
            for (order_line<usd>& line : after.lines)
                line.at_least = line.at_most = std::llround(1.01 * static_cast<double>(line.at_least));
        else
            after.loins[500].meat = invented_order(1, 20, 1_mm, 2).loins[0].meat;
        const order_batch batch(after, 2);
        const double start_of_cold = processor_seconds();
        const order_plan<usd> cold = plan_order(after, batch, {.threads = 2});
        const double start_of_warm = processor_seconds();
        const order_plan<usd> warm = plan_order(after, batch, {.threads = 2, .first_prices = earlier.line_prices()});
        const double cold_took = start_of_warm - start_of_cold, warm_took = processor_seconds() - start_of_warm;
        changes.add({of_order ? "every line by 1 %" : "one loin", std::to_string(cold.passes),
                     std::to_string(warm.passes),
                     times(static_cast<double>(cold.passes) / static_cast<double>(warm.passes)), number(cold_took, 2),
                     number(warm_took, 2), times(cold_took / warm_took), number(100.0 * cold.relative_gap(), 4),
                     number(100.0 * warm.relative_gap(), 4)});
    }
    changes.print(std::cout, markdown);

    table flows(
        "The same order as an arc-flow in CBC, on a coarse grid; at most a minute for CBC",
        {"loins", "products", "mm", "ours, s", "ours, USD", "our bound", "CBC, s", "CBC, USD", "CBC over ours, time"});
    for (const instance& of : {instance{3, 3, 4_mm}, instance{6, 4, 4_mm}}) {
        const std::size_t loins = of.loins, products = of.products;
        const length step = of.step;
        const order<usd> wanted = invented_order(loins, products, step);
        order_plan<usd> plan;
        const double ours = seconds([&] { return (plan = plan_order(wanted, {.threads = 2})).value_billionths; });
        std::pair<double, double> found;
        const double theirs = seconds([&] { return (found = by_cbc(wanted, 60.0)).first; });
        flows.add({std::to_string(loins), std::to_string(products), number(step / (1_mm), 1), number(ours, 3),
                   number(plan.value().value(), 4), number(plan.bound().value(), 4), number(theirs, 3),
                   number(found.first, 4), times(theirs / ours)});
    }
    flows.print(std::cout, markdown);
    return EXIT_SUCCESS;
}
