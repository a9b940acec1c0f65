// Tasks that are timed in turn, so that what else the machine does hits all alike, and a table of their ratios.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <string_view>
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

/// Hands Google Benchmark its arguments; true if --markdown was among them.
[[nodiscard]] inline bool start(int argc, char** argv) {
    bool markdown = false;
    std::vector<char*> arguments;
    for (int i = 0; i < argc; ++i) {
        if (std::string_view(argv[i]) == "--markdown")
            markdown = true;
        else
            arguments.push_back(argv[i]);
    }
    int count = static_cast<int>(arguments.size());
    benchmark::Initialize(&count, arguments.data());
    if (benchmark::ReportUnrecognizedArguments(count, arguments.data())) std::exit(EXIT_FAILURE);
    return markdown;
}

/// Runs every task `rounds` times in turn; prints medians and how many times longer the first task takes than each.
inline void time_in_turn(std::vector<task>& tasks, int rounds, const std::string& title, bool markdown) {
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
