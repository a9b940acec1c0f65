// How long a plan takes, and against what: the engine, the whole call, the same algorithm on raw numbers, the triple loop
// of the textbooks, Boost.Graph, GLPK in two ways and CBC. Ends in a table of ratios; with --markdown the table is Markdown.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <functional>
#include <iostream>
#include <memory>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include <benchmark/benchmark.h>
#include <unistd.h>

#include <tranche/optimise/plans/compact_problem.hpp>

#include "instance.hpp"
#include "ratios.hpp"
#include "raw_twin.hpp"
#include "rivals.hpp"

namespace {

using namespace tranche_benchmark;

/// Everything that is prepared before the clock starts.
struct prepared {
    profile meat;
    std::vector<cut_spec> specs;
    cutting_rules rules = facing_of_8_mm();
    cutting_problem problem;
    kept_mass_objective objective;
    raw_instance<double> doubles;
    raw_instance<std::int64_t> integers;

    prepared(length step, std::vector<cut_spec> cuts)
        : meat(loin_on_grid(step)), specs(std::move(cuts)), problem(meat, specs, rules),
          objective(kept_mass_objective::portions_then_mass(problem)), doubles(raw_numbers<double>(problem)),
          integers(raw_numbers<std::int64_t>(problem)) {}
    prepared(const prepared&) = delete;
    prepared& operator=(const prepared&) = delete;

    [[nodiscard]] std::int64_t engine() const { return best_path(problem, objective).score; }
    [[nodiscard]] std::int64_t whole_call() const {
        return static_cast<std::int64_t>(most_portions(meat, specs, rules).plan.slabs.size());
    }
    [[nodiscard]] std::int64_t on_doubles() const {
        return static_cast<std::int64_t>(raw_twin<double>(doubles).run().score);
    }
    [[nodiscard]] std::int64_t on_integers() const { return raw_twin<std::int64_t>(integers).run().score; }
};

void require_equal(std::int64_t score, std::int64_t other, const std::string& who) {
    if (score == other) return;
    std::cerr << "error: " << who << " finds a score of " << other << ", the engine one of " << score << '\n';
    std::exit(EXIT_FAILURE);
}

/// No figure is worth anything unless all solve the same problem: same scores, same cuts.
void require_agreement(const prepared& p, bool with_program) {
    const auto found = best_path(p.problem, p.objective);
    const auto twin = raw_twin<double>(p.doubles).run();
    require_equal(found.score, static_cast<std::int64_t>(twin.score), "the twin on doubles");
    require_equal(found.score, p.on_integers(), "the twin on integers");
    require_equal(found.score, triple_loop(p.integers), "the triple loop");
    if (with_program) require_equal(found.score, by_glpk(arc_flow(p.integers)), "GLPK");
    bool same = found.stretches.size() == twin.stretches.size();
    for (std::size_t i = 0; same && i < twin.stretches.size(); ++i)
        same = found.stretches[i].from == twin.stretches[i].from && found.stretches[i].to == twin.stretches[i].to;
    if (!same) {
        std::cerr << "error: the twin cuts elsewhere\n";
        std::exit(EXIT_FAILURE);
    }
}

struct grid {
    const char* name;
    length step;
    int rounds;
    bool with_program; // the simplex method did not end within five minutes on the finer grids (observed)
};
const grid grids[] = {{"1 mm", 1_mm, 401, true},
                      {"0.5 mm", 0.5_mm, 401, true},
                      {"0.1 mm", 0.1_mm, 101, false},
                      {"0.02 mm", 0.02_mm, 25, false}};

/// Whether the network of all allowed slabs, some 200 bytes each in GLPK, fits into the memory that is free.
bool network_fits(const raw_instance<std::int64_t>& in) {
    double slabs = 0.0;
    for_each_slab(in, [&](std::size_t, std::size_t, std::size_t, std::int64_t) { slabs += 1.0; });
    const double free = static_cast<double>(sysconf(_SC_AVPHYS_PAGES)) * static_cast<double>(sysconf(_SC_PAGESIZE));
    return slabs * 220.0 < free;
}

/// One cut from 2 cm on; the only thing that grows is how much thicker it may be.
prepared& with_window(int millimetres) {
    static std::vector<std::unique_ptr<prepared>> all;
    const std::vector<cut_spec> one{{.name = "cut",
                                     .thickness = {2_cm, 2_cm + static_cast<double>(millimetres) * 1_mm},
                                     .gluteus_medius = any_gluteus_medius}};
    return *all.emplace_back(std::make_unique<prepared>(0.1_mm, one));
}

/// The objective of docs/optimisers.md, which says that it is about portions only, or does not.
template <bool PortionsOnly>
struct near_target {
    using score_type = double;
    static constexpr bool portions_only = PortionsOnly;
    const cutting_problem* problem;
    mass target;
    double per_microgram = 1e-9 / target.value(); // share of the target

    [[nodiscard]] double slab(std::size_t option, std::size_t from, std::size_t to) const {
        if (!problem->is_portion(option)) return 0.0;
        const double off = per_microgram * static_cast<double>(problem->weight(option, from, to)) - 1.0;
        return 1.0 - 25.0 * off * off;
    }
};

/// An objective with its bands of weight hidden, but not that its loose meat is separable.
template <class O>
struct without_bands {
    using score_type = typename O::score_type;
    O inner;
    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        return inner.slab(o, from, to);
    }
    [[nodiscard]] score_type loose_opening(std::size_t o, std::size_t at) const {
        return detail::loose_terms_of(inner, o).opening(at);
    }
    [[nodiscard]] score_type loose_closing(std::size_t o, std::size_t at) const {
        return detail::loose_terms_of(inner, o).closing(at);
    }
};

/// Objectives that are separable in part only, each against the engine's best kind; they have to agree where they are alike.
void print_nearly_separable(const prepared& p, bool markdown) {
    const charged_weights charged{{p.specs[0].name, 340_g}, {p.specs[1].name, 200_g}, {p.specs[2].name, 300_g}};
    const portion_count_objective count(p.problem);
    const auto banded = lexicographic(count, overweight_objective(p.problem, charged));
    const without_bands<std::decay_t<decltype(banded)>> whole{banded};
    if (best_path(p.problem, banded).stretches != best_path(p.problem, whole).stretches) {
        std::cerr << "error: bands of weight change the cuts\n";
        std::exit(EXIT_FAILURE);
    }
    const auto separable = lexicographic(count, giveaway_objective(p.problem));
    const near_target<false> docs{&p.problem, 330_g};
    const near_target<true> docs_portions{&p.problem, 330_g};
    const std::vector<std::pair<const char*, std::function<double()>>> tasks{
        {"engine, kept mass", [&] { return static_cast<double>(best_path(p.problem, p.objective).searched); }},
        {"separable, two parts", [&] { return static_cast<double>(best_path(p.problem, separable).searched); }},
        {"in two bands, two parts", [&] { return static_cast<double>(best_path(p.problem, banded).searched); }},
        {"the same by whole slabs", [&] { return static_cast<double>(best_path(p.problem, whole).searched); }},
        {"near_target, loose meat by whole slabs", [&] { return best_path(p.problem, docs).score; }},
        {"near_target", [&] { return best_path(p.problem, docs_portions).score; }},
        {"its slabs alone, each once", [&] {
             double highest = 0.0;
             p.problem.graph().each_portion_slab([&](const auto& lane, std::size_t from, std::size_t to) {
                 highest = std::max(highest, docs.slab(lane.option(), from, to));
             });
             return highest;
         }}};
    std::vector<std::function<double()>> functions;
    for (const auto& task : tasks) functions.push_back(task.second);
    const std::vector<double> took = times_in_turn(functions, 101);
    table rows("Objectives that are nearly separable, at 0.5 mm: time of a plan",
               {"objective", "µs", "times the engine"});
    for (std::size_t k = 0; k < tasks.size(); ++k)
        rows.add({tasks[k].first, times(1e6 * took[k]), times(took[k] / took[0])});
    rows.print(std::cout, markdown);
}

/// What is known of a loin once prices are set anew: a compact problem, against all that it spares.
void print_compact(bool markdown) {
    std::vector<cut_spec> specs;
    cut_values values;
    for (int k = 0; k < 20; ++k) { // invented: from a thin steak to a roast for four
        const mass portion = (160.0 + 640.0 * k / 19.0) * 1_g;
        const length thick = portion / (14.0 * 1_g) * 1_mm;
        specs.push_back({.name = "cut " + std::to_string(k),
                         .thickness = {0.75 * thick, 1.25 * thick},
                         .portion = {0.93 * portion, 1.07 * portion},
                         .gluteus_medius = any_gluteus_medius});
        values.each.push_back(1'500'000'000 + std::int64_t{900'000'000} * k);
    }
    const profile meat = loin_on_grid(1_mm);
    const cutting_rules rules = facing_of_8_mm();
    price_list<usd> prices;
    for (const cut_spec& spec : specs) prices.portions[spec.name] = {};
    for (const destination to : all_destinations) prices.by_products[to] = 0.0_usd / 1_kg;
    prices.by_products[destination::grind] = 4.0_usd / 1_kg;
    const cutting_problem problem(meat, specs, rules);
    const compact_problem compact(problem, worth_objective(problem, prices));
    price_list<usd> anew = prices;
    for (std::size_t k = 0; k < specs.size(); ++k)
        anew.portions[specs[k].name].each = money<usd>::from_value(1e-9 * static_cast<double>(values.each[k]));
    const worth_objective worth(problem, anew);
    compact_workspace desk;
    path_workspace<worth_objective> room;
    require_equal(room.best_path(problem, worth).score, desk.plan(compact, values).score, "the compact problem");
    const std::vector<std::function<std::int64_t()>> tasks{
        [&] { return desk.plan(compact, values).score; }, [&] { return room.best_path(problem, worth).score; },
        [&] {
            const cutting_problem once_more(meat, specs, rules);
            return room.best_path(once_more, worth_objective(once_more, anew)).score;
        }};
    const std::vector<spread_of_times> took = spreads_in_turn(tasks, 401);
    std::size_t lanes = 0;
    for (std::size_t o = 0; o < problem.option_count(); ++o)
        lanes += (problem.cells() + 1) * sizeof(detail::slab_starts);
    table rows("Twenty cuts at 1 mm, planned again at other prices",
               {"", "µs", "quartiles", "times the compact", "KB a loin"});
    const char* const names[] = {"compact problem", "engine, problem kept", "engine, problem and objective anew"};
    for (std::size_t k = 0; k < tasks.size(); ++k)
        rows.add({names[k], times(1e6 * took[k].middle), times(1e6 * took[k].low) + " to " + times(1e6 * took[k].high),
                  times(took[k].middle / took[0].middle),
                  k == 0   ? number(static_cast<double>(compact.bytes()) / 1e3, 0)
                  : k == 1 ? number(static_cast<double>(lanes + 2 * (problem.cells() + 1) * 8 * specs.size()) / 1e3, 0)
                           : "-"});
    rows.print(std::cout, markdown);
}

/// Everybody on the same network in one run; the caps are those of `demand_benchmark`.
void print_rivals(const prepared& p, bool markdown) {
    const std::vector<demand> capped{at_most(6, "steak"), at_most(4, "halved fillet"), at_most(4, "end steak")};
    const arc_flow flow(p.integers), with_caps(p.integers, {6, 2, 4});
    const boost_graph network(flow);
    const auto with_demands = [&] { return best_path_with_demand(p.problem, p.objective, capped).score; };
    require_equal(p.engine(), network.longest(), "Boost.Graph");
    require_equal(with_demands(), by_cbc(with_caps), "CBC");
    const std::vector<std::pair<const char*, std::function<std::int64_t()>>> tasks{
        {"engine", [&] { return p.engine(); }},
        {"Boost.Graph, search alone", [&] { return network.longest(); }},
        {"Boost.Graph, network and search", [&] { return boost_graph(arc_flow(p.integers)).longest(); }},
        {"with three caps: count states", with_demands},
        {"with three caps: CBC", [&] { return by_cbc(with_caps); }}};
    std::vector<std::function<std::int64_t()>> functions;
    for (const auto& task : tasks) functions.push_back(task.second);
    const std::vector<spread_of_times> took = spreads_in_turn(functions, 11);
    table rows("Rivals at 1 mm, eleven runs in turn", {"", "ms", "quartiles", "times ours"});
    for (std::size_t k = 0; k < tasks.size(); ++k)
        rows.add({tasks[k].first, times(1e3 * took[k].middle),
                  times(1e3 * took[k].low) + " to " + times(1e3 * took[k].high),
                  times(took[k].middle / took[k < 3 ? 0 : 3].middle)});
    rows.print(std::cout, markdown);
}

void print_ratios(const std::vector<std::unique_ptr<prepared>>& on_grid, bool markdown) {
    table plans("Time of a plan, as a multiple of the engine's",
                {"grid", "positions", "engine, µs", "engine", "raw integers", "raw doubles", "whole call",
                 "triple loop", "GLPK path", "GLPK simplex"});
    table types("What the types cost: the engine over its twin on raw numbers", {"grid", "integers", "doubles"});
    std::vector<double> over_integers, over_doubles;
    for (std::size_t i = 0; i < on_grid.size(); ++i) {
        const prepared& p = *on_grid[i];
        const grid& g = grids[i];
        const auto engine = [&] { return p.engine(); };
        const auto against = [&](const auto& f, int rounds) { return ratio(f, engine, rounds); };
        const auto on_path = [&] {
            const std::int64_t score = critical_path(p.integers);
            require_equal(p.engine(), score, "GLPK's critical path");
            return score;
        };
        const double integers = against([&] { return p.on_integers(); }, 5 * g.rounds);
        const double doubles = against([&] { return p.on_doubles(); }, 5 * g.rounds);
        plans.add({g.name, std::to_string(p.problem.cells() + 1),
                   times(1e6 * times_in_turn(std::vector{engine}, g.rounds)[0]), "1", times(integers), times(doubles),
                   times(against([&] { return p.whole_call(); }, g.rounds)),
                   times(against([&] { return triple_loop(p.integers); }, g.rounds)),
                   network_fits(p.integers) ? times(against(on_path, 3)) : "-",
                   g.with_program ? times(against([&] { return by_glpk(arc_flow(p.integers)); }, 3)) : "-"});
        types.add({g.name, number(1.0 / integers, 3), number(1.0 / doubles, 3)});
        over_integers.push_back(1.0 / integers);
        over_doubles.push_back(1.0 / doubles);
    }
    types.add({"in the middle", number(median(over_integers), 3), number(median(over_doubles), 3)});
    plans.print(std::cout, markdown);
    std::cout << "\nThe simplex method is left out on finer grids, where it did not end within five minutes; - under "
                 "GLPK path "
                 "means that\nthe memory free now does not hold the network.\n";
    types.print(std::cout, markdown);
    std::cout << "\nThe engine counts whole micrograms, so integers are like for like; doubles show what that choice "
                 "costs.\nThe aim is 1.02 at most: "
              << (median(over_integers) <= 1.02 ? "met" : "NOT met") << " against integers, "
              << (median(over_doubles) <= 1.02 ? "met" : "NOT met")
              << " against doubles, in the middle of the grids.\n";

    std::vector<double> positions, engine_times, call_times;
    std::vector<std::function<std::int64_t()>> engines, calls;
    for (const auto& p : on_grid) {
        positions.push_back(static_cast<double>(p->problem.cells() + 1));
        engines.emplace_back([&p] { return p->engine(); });
        calls.emplace_back([&p] { return p->whole_call(); });
    }
    table growth("Growth: time as a power of the number of positions, from 1 mm to 0.02 mm", {"", "power"});
    growth.add({"engine", number(exponent(positions, times_in_turn(engines, 51)), 2)});
    growth.add({"whole call", number(exponent(positions, times_in_turn(calls, 51)), 2)});
    growth.print(std::cout, markdown);

    table windows("Width of the thickness window at 0.1 mm: time as a multiple of that with 5 mm",
                  {"window", "engine", "triple loop"});
    std::vector<std::function<std::int64_t()>> by_engine, by_loop;
    const std::vector<int> widths{5, 10, 20, 40, 80};
    for (const int w : widths) {
        const prepared& p = with_window(w);
        require_agreement(p, false);
        by_engine.emplace_back([&p] { return p.engine(); });
        by_loop.emplace_back([&p] { return triple_loop(p.integers); });
    }
    const std::vector<double> engine = times_in_turn(by_engine, 101), loop = times_in_turn(by_loop, 25);
    for (std::size_t k = 0; k < widths.size(); ++k)
        windows.add({std::to_string(widths[k]) + " mm", times(engine[k] / engine[0]), times(loop[k] / loop[0])});
    windows.print(std::cout, markdown);
}

} // namespace

int main(int argc, char** argv) {
    bool markdown = false;
    // Repetitions in random order, so that a busy spell of the machine does not fall on one benchmark alone.
    std::vector<std::string> arguments{argv[0], "--benchmark_repetitions=7", "--benchmark_min_time=0.02",
                                       "--benchmark_enable_random_interleaving=true",
                                       "--benchmark_display_aggregates_only=true"};
    for (int i = 1; i < argc; ++i) {
        if (std::string_view(argv[i]) == "--markdown")
            markdown = true;
        else
            arguments.emplace_back(argv[i]);
    }
    std::vector<char*> pointers;
    for (std::string& argument : arguments) pointers.push_back(argument.data());
    int count = static_cast<int>(pointers.size());
    benchmark::Initialize(&count, pointers.data());
    if (benchmark::ReportUnrecognizedArguments(count, pointers.data())) return EXIT_FAILURE;

    std::vector<std::unique_ptr<prepared>> on_grid;
    for (const grid& g : grids) {
        const prepared& p = *on_grid.emplace_back(std::make_unique<prepared>(g.step, three_cuts()));
        require_agreement(p, g.with_program);
        const auto add = [&](const char* what, auto f) {
            benchmark::RegisterBenchmark((std::string(what) + " / " + g.name).c_str(), [f](benchmark::State& state) {
                for (auto _ : state) benchmark::DoNotOptimize(f());
            })->Unit(benchmark::kMicrosecond);
        };
        add("engine", [&p] { return p.engine(); });
        add("raw integers", [&p] { return p.on_integers(); });
        add("raw doubles", [&p] { return p.on_doubles(); });
        add("problem", [&p] { return cutting_problem(p.meat, p.specs, p.rules).cells(); });
        add("whole call", [&p] { return p.whole_call(); });
        add("triple loop", [&p] { return triple_loop(p.integers); });
    }
    benchmark::RunSpecifiedBenchmarks();
    print_ratios(on_grid, markdown);
    print_nearly_separable(*on_grid[1], markdown);
    print_compact(markdown);
    print_rivals(*on_grid[0], markdown);
    return EXIT_SUCCESS;
}
