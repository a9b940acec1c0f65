// How many plans a second one core and all cores make, how often a plan allocates, how the time grows with the number of specs,
// and how long reports and pages take beside a search. Ends in tables; with --markdown they are Markdown.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <functional>
#include <iostream>
#include <memory>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include <tranche/cost/yield/settle.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/report/board_card.hpp>
#include <tranche/report/html_report.hpp>
#include <tranche/report/text_report.hpp>

#include "in_turn.hpp"
#include "instance.hpp"
#include "optimise/counted_allocations.hpp"
#include "ratios.hpp"

namespace {

using namespace tranche_benchmark;

struct prepared {
    profile meat = loin_on_grid(0.5_mm);
    std::vector<cut_spec> specs;
    cutting_problem problem;
    kept_mass_objective objective;

    explicit prepared(std::vector<cut_spec> cuts)
        : specs(std::move(cuts)), problem(meat, specs, facing_of_8_mm()),
          objective(kept_mass_objective::portions_then_mass(problem)) {}
    prepared(const prepared&) = delete;
    prepared& operator=(const prepared&) = delete;
};

using workspace = path_workspace<kept_mass_objective>;

/// Plans a second of so many threads together, over about a fifth of a second. `make()` gives what a thread calls again and
/// again; threads share nothing but what is const.
template <class Make>
double plans_per_second(const Make& make, unsigned threads) {
    constexpr std::chrono::milliseconds span(200);
    std::vector<double> rates(threads);
    std::vector<std::thread> all;
    for (unsigned t = 0; t < threads; ++t)
        all.emplace_back([&make, &rates, t, span] {
            auto plan = make();
            plan(); // warm
            const auto begin = std::chrono::steady_clock::now();
            std::size_t count = 0;
            std::chrono::duration<double> taken{};
            do {
                for (int i = 0; i < 16; ++i) benchmark::DoNotOptimize(plan());
                count += 16;
                taken = std::chrono::steady_clock::now() - begin;
            } while (taken < span);
            rates[t] = static_cast<double>(count) / taken.count();
        });
    double sum = 0.0;
    for (unsigned t = 0; t < threads; ++t) {
        all[t].join();
        sum += rates[t];
    }
    return sum;
}

/// Calls of operator new a plan, once it is warm: the mean of a hundred.
template <class Plan>
double allocations_a_plan(const Plan& plan) {
    constexpr int plans = 100;
    benchmark::DoNotOptimize(plan()); // warm
    const std::size_t before = tranche_test::allocations();
    for (int i = 0; i < plans; ++i) benchmark::DoNotOptimize(plan());
    return static_cast<double>(tranche_test::allocations() - before) / plans;
}

/// So many steaks, each a millimetre of the window narrower than the one before it.
std::vector<cut_spec> steaks(std::size_t count) {
    std::vector<cut_spec> all;
    for (std::size_t i = 0; i < count; ++i) {
        cut_spec steak = three_cuts().front();
        steak.name += ' ' + std::to_string(i);
        steak.thickness.max -= static_cast<double>(i % 12) * 1_mm;
        all.push_back(std::move(steak));
    }
    return all;
}

} // namespace

int main(int argc, char** argv) {
    const bool markdown = start(argc, argv);
    const prepared p(three_cuts());
    const unsigned cores = std::max(1U, std::thread::hardware_concurrency());

    const auto search = [&p] { return best_path(p.problem, p.objective).score; };
    const auto in_workspace = [&p] {
        return [&p, room = std::make_shared<workspace>()] { return room->best_path(p.problem, p.objective).score; };
    };
    const auto whole_call = [&p] { return most_portions(p.meat, p.specs, facing_of_8_mm()).plan.slabs.size(); };

    table rates("Plans a second at 0.5 mm: " + std::to_string(cores) + " threads over one, each median of 5 in turn",
                {"", "one thread", "all over one"});
    const auto add_rates = [&](const std::string& name, const auto& make) {
        std::vector<double> alone, gained;
        for (int i = 0; i < 5; ++i) {
            alone.push_back(plans_per_second(make, 1));
            gained.push_back(plans_per_second(make, cores) / alone.back());
        }
        rates.add({name, number(median(alone), 0), number(median(gained), 2)});
    };
    add_rates("search, new room for each", [&search] { return search; });
    add_rates("search, in a workspace", in_workspace);
    add_rates("whole call", [&whole_call] { return whole_call; });
    rates.print(std::cout, markdown);

    table allocated("Allocations a plan at 0.5 mm, once warm: calls of operator new", {"", "allocations"});
    const auto add_allocations = [&](const std::string& name, const auto& plan) {
        allocated.add({name, number(allocations_a_plan(plan), 0)});
    };
    add_allocations("search, in a workspace", in_workspace());
    add_allocations("search, new room for each", search);
    add_allocations("whole call", whole_call);
    allocated.print(std::cout, markdown);

    table growth("Growth with the number of specs at 0.5 mm: time as a multiple of that with one", {"specs", "search"});
    const std::vector<std::size_t> counts{1, 2, 4, 8, 16};
    std::vector<std::unique_ptr<prepared>> instances;
    std::vector<std::function<std::int64_t()>> searches;
    for (const std::size_t count : counts) {
        const prepared* const instance = instances.emplace_back(std::make_unique<prepared>(steaks(count))).get();
        searches.emplace_back([instance] { return best_path(instance->problem, instance->objective).score; });
    }
    const std::vector<double> times_of = times_in_turn(searches, 201);
    for (std::size_t k = 0; k < counts.size(); ++k)
        growth.add({std::to_string(counts[k]), times(times_of[k] / times_of[0])});
    growth.print(std::cout, markdown);

    // Of a plan with one steak: text and pages of its bill, made from the loin and the plan.
    const prepared one(steaks(1));
    const measured_loin loin = taped_loin();
    const tranche::planned planned = most_portions(one.meat, one.specs, facing_of_8_mm());
    const bill<usd> paid = settle<usd>(planned.plan, {.weight = to_mass(one.meat.total()), .price = 17.90_usd / 1_kg});
    const page_pictures bare{outline_of(loin), {}}, drawn{outline_of(loin), cut_faces(loin, planned.plan)};
    const auto of_page = [&](const page_pictures& pictures) {
        return static_cast<std::int64_t>(
            html_report("A loin", planned, pictures, paid, {.units = metric_kitchen}).size());
    };
    const std::vector<std::function<std::int64_t()>> papers{
        [&] { return best_path(one.problem, one.objective).score; },
        [&] { return static_cast<std::int64_t>(text_report(planned, paid, metric_kitchen).size()); },
        [&] { return of_page(bare); },
        [&] { return of_page(drawn); },
        [&] { return static_cast<std::int64_t>(board_card("A loin", planned.plan, bare.outline).size()); },
        [&] {
            return static_cast<std::int64_t>(outline_of(loin).points.size() + cut_faces(loin, planned.plan).size());
        }};
    const std::vector<double> times_of_papers = times_in_turn(papers, 201);
    table paper("Reports at 0.5 mm: time as a multiple of the search (budget of the page with faces: 600)",
                {"", "search"});
    const std::vector<std::string> names{"text report", "HTML page", "HTML page with faces", "board card",
                                         "outline and faces of the loin, for these"};
    for (std::size_t k = 0; k < names.size(); ++k)
        paper.add({names[k], times(times_of_papers[k + 1] / times_of_papers[0])});
    paper.print(std::cout, markdown);
    return EXIT_SUCCESS;
}
