// How far a study goes, who may stop it, and who is told how far it is.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <chrono>
#include <cmath>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>

#include <tranche/optimise/engine/search_limits.hpp>
#include <tranche/statistics/sample_summary.hpp>
#include <tranche/study/run/study_result.hpp>
#include <tranche/study/summary/exact_summary.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// The mean of an output is known well enough when its interval of `confidence` reaches no further than `half_width` to either side.
struct study_precision {
    std::string output{};
    double half_width = 0.0; ///< in the output's unit, above zero
    fraction confidence = 0.95;

    friend bool operator==(const study_precision&, const study_precision&) = default;
};

/// How far a study is.
struct study_progress {
    std::uint64_t done = 0;  ///< replicates
    std::uint64_t of = 0;    ///< that there will be; with a precision, by what is known of the spread
    double per_second = 0.0; ///< replicates, since this call began; 0 as long as none is done
    std::optional<std::chrono::duration<double>> left{}; ///< at that rate; none while there is no rate
};

/// How far a study goes. Limits but `stop` and `most_time` are the same everywhere, and so are results.
struct study_options {
    std::string title{};    ///< says which study it is: parts of others do not merge with it
    std::uint64_t seed = 1; ///< studies of one seed and model have the same replicates: common random numbers
    std::uint64_t replicates = 10'000; ///< 1 to 2^32; with a precision, at most so many
    /// Stops once this is reached. Asked after 256 replicates and at fixed numbers of them from there on, 64 apart, later an eighth of
    /// what is done, so the same replicates are run whoever runs them. (Since it stops where the interval happens to be narrow, that
    /// holds the mean a little less often than it says.)
    std::optional<study_precision> precision{};
    /// Stops after about this time, with what there is: how much that is depends on the machine.
    std::optional<std::chrono::duration<double>> most_time{};
    /// Asked before each replicate, in the thread that runs it: a function has to bear that.
    stop_signal stop{};
    /// Told at most ten times a second, and at the numbers of replicates at which a precision is asked for; by one thread at a time, but
    /// not always by the same. What it throws ends the study.
    std::function<void(const study_progress&)> progress{};
    /// Given what there is at those numbers of replicates, in the thread that called: to write it to a file (`write_study_file`), from
    /// which `resume_study` goes on.
    std::function<void(const study_result&)> checkpoint{};
};

/// Throws `invalid_input` naming the member for a number of replicates, a precision or a time that is none, and for the precision of
/// an output that the study does not have.
inline void validate(const study_options& options, const study_outline& outline) {
    if (options.replicates < 1 || options.replicates > exact_summary::most_values)
        throw invalid_input("replicates", std::to_string(options.replicates), "1 to 2^32");
    if (options.precision) {
        detail::require_confidence(options.precision->confidence);
        if (!(std::isfinite(options.precision->half_width) && options.precision->half_width > 0.0))
            throw invalid_input("precision.half_width", detail::shown(options.precision->half_width),
                                "a finite value above zero");
        std::string known;
        bool found = false;
        for (const study_output& output : outline.outputs) {
            found = found || output.name == options.precision->output;
            known += (known.empty() ? "" : ", ") + output.name;
        }
        if (!found) throw invalid_input("precision.output", options.precision->output, "one of " + known);
    }
    if (options.most_time && !(options.most_time->count() > 0.0))
        throw invalid_input("most_time", detail::shown(options.most_time->count()) + " s", "more than zero");
}

} // namespace tranche
