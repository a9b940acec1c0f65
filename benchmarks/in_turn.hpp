// Tasks that are timed in turn, so that what else the machine does hits all alike, and a table of their ratios.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <regex>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <benchmark/benchmark.h>

namespace tranche_benchmark {

struct task {
    std::string name;
    std::function<double()> run;
    std::vector<double> times{};

    [[nodiscard]] double median() const {
        std::vector<double> sorted = times;
        std::sort(sorted.begin(), sorted.end());
        return sorted[sorted.size() / 2];
    }
};

/// What the arguments of a benchmark ask for.
struct run_options {
    bool markdown = false;
    std::string filter{}; ///< of --benchmark_filter; empty: all

    /// Whether a task of that name is to run: what Google Benchmark makes of the filter, "-" in front of what is not to.
    [[nodiscard]] bool takes(const std::string& name) const {
        const bool other = filter.starts_with('-');
        return filter.empty() || filter == "all" || std::regex_search(name, std::regex(filter.substr(other))) != other;
    }
};

/// Hands Google Benchmark its arguments, and says what they ask for.
[[nodiscard]] inline run_options options_of(int argc, char** argv) {
    run_options options;
    constexpr std::string_view filter = "--benchmark_filter=";
    std::vector<char*> arguments;
    for (int i = 0; i < argc; ++i) {
        const std::string_view argument = argv[i];
        if (argument.starts_with(filter)) options.filter = argument.substr(filter.size());
        if (argument == "--markdown")
            options.markdown = true;
        else
            arguments.push_back(argv[i]);
    }
    int count = static_cast<int>(arguments.size());
    benchmark::Initialize(&count, arguments.data());
    if (benchmark::ReportUnrecognizedArguments(count, arguments.data())) std::exit(EXIT_FAILURE);
    return options;
}
/// The same of a benchmark all of whose tasks are needed; true if --markdown is among its arguments.
[[nodiscard]] inline bool start(int argc, char** argv) { return options_of(argc, argv).markdown; }

/// The tasks that a filter takes; the first of them is what the others are compared with.
[[nodiscard]] inline std::vector<task> taken(std::vector<task> tasks, const run_options& options) {
    std::vector<task> kept;
    for (task& t : tasks)
        if (options.takes(t.name)) kept.push_back(std::move(t));
    return kept;
}
/// A task that was taken, or null.
[[nodiscard]] inline const task* task_named(const std::vector<task>& tasks, std::string_view name) {
    for (const task& t : tasks)
        if (t.name == name) return &t;
    return nullptr;
}

/// Runs every task `rounds` times in turn; prints medians and how many times longer the first task takes than each.
inline void time_in_turn(std::vector<task>& tasks, int rounds, const std::string& title, bool markdown) {
    if (tasks.empty()) return;
    for (int i = 0; i < rounds; ++i)
        for (task& t : tasks) {
            const auto before = std::chrono::steady_clock::now();
            benchmark::DoNotOptimize(t.run());
            t.times.push_back(std::chrono::duration<double>(std::chrono::steady_clock::now() - before).count());
        }
    std::printf("\n%s%s: median of %d, and the first over it\n\n", markdown ? "### " : "", title.c_str(), rounds);
    if (markdown) std::printf("| task | milliseconds | ratio |\n| --- | ---: | ---: |\n");
    for (const task& t : tasks)
        std::printf(markdown ? "| %s | %.4f | %.3g |\n" : "%-36s %10.4f ms %10.3g\n", t.name.c_str(), 1e3 * t.median(),
                    tasks[0].median() / t.median());
}

/// The same after every task ran once under Google Benchmark, which does that once in a program.
inline void run_in_turn(std::vector<task>& tasks, int rounds, const std::string& title, bool markdown) {
    for (task& t : tasks)
        benchmark::RegisterBenchmark(t.name.c_str(),
                                     [&t](benchmark::State& state) {
                                         for (auto _ : state) benchmark::DoNotOptimize(t.run());
                                     })
            ->Unit(benchmark::kMillisecond)
            ->Iterations(1);
    benchmark::RunSpecifiedBenchmarks();
    time_in_turn(tasks, rounds, title, markdown);
}

} // namespace tranche_benchmark
