// Runs a model over many replicates, by whom you like and as far as you like, and goes on where a run was broken off.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/study/run/detail/batch_stretches.hpp>
#include <tranche/study/run/detail/study_recorder.hpp>
#include <tranche/study/run/detail/study_watch.hpp>
#include <tranche/study/run/executors.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/study/run/study_options.hpp>
#include <tranche/study/run/study_result.hpp>
#include <tranche/study/summary/estimates.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

namespace detail {

/// The batches at whose ends a study looks at itself: 16, then an eighth more each time (4 at least, 16,384 at most).
[[nodiscard]] constexpr std::uint64_t next_look(std::uint64_t batches) {
    return batches == 0 ? 16 : batches + std::clamp<std::uint64_t>(batches / 8, 4, 16'384);
}

/// The replicates that it takes for a precision, as far as is known; none where nothing is. Values that are all alike may be so by
/// chance: of n of them one is taken to be a bin off, so that an output that seldom varies is not called precise too soon.
template <class Precision>
[[nodiscard]] std::optional<double> replicates_for(const study_result& result, const Precision& precision) {
    const exact_summary& summary = result[precision.output];
    const auto e = estimate_mean(summary, precision.confidence);
    if (!e) return std::nullopt;
    const auto n = static_cast<double>(summary.count());
    const double one_bin = student_t(precision.confidence, n - 1.0) * static_cast<double>(summary.output().bin) *
                           summary.output().unit / n;
    const double times = std::max(e->half_width(), one_bin) / precision.half_width;
    return static_cast<double>(result.replicates()) * times * times;
}

/// Runs what of `batches` is not in `known` yet.
template <class Model>
[[nodiscard]] auto batch_work(const Model& model, const study_options& options, const study_result& known,
                              study_watch& watch) {
    return [&](auto&& next) {
        study_result part(known.title(), known.seed(), known.outline());
        study_recorder recorder(part);
        auto workspace = workspace_of(model);
        std::vector<replicate_range> left;
        const bool blocks = runs_blocks<Model> && !watch.may_stop();
        batch_stretches stretches(next, options.replicates);
        const auto run = [&](replicate_range open) {
            const std::uint64_t begin = open.first;
            if constexpr (runs_blocks<Model>)
                if (blocks && recorder.run_block(model, open, workspace)) open.first = open.last;
            while (open.first < open.last && !watch.stops()) recorder.run(model, open.first++, workspace);
            recorder.cover({begin, open.first});
            watch.done(open.first - begin);
        };
        while (!watch.stops()) {
            const std::optional<replicate_range> whole = stretches.take(!blocks);
            if (!whole) break;
            find_not_covered(*whole, known.covered(), left);
            if (!left.empty())
                stretches.time([&] {
                    for (const replicate_range& open : left) run(open);
                });
        }
        recorder.finish();
        return part;
    };
}

} // namespace detail

/// Goes on with a study: runs the replicates that `so_far` does not have, as `run_study` would have, and gives all of them. With a
/// tighter precision than before it comes to the same bits as if that had been asked for at once. Throws `invalid_input` as
/// `run_study` does, and where `so_far` has another title, seed or outline.
template <study_model Model, study_executor Executor = serial>
[[nodiscard]] study_result resume_study(study_result so_far, const Model& model, const study_options& options,
                                        const Executor& executor = {}) {
    so_far.merge(study_result(options.title, options.seed, model.outline()));
    validate(options, so_far.outline());
    if (options.precision && !Executor::complete)
        throw invalid_input("precision", "one for a shard",
                            "a stated number of replicates: only all shards together have a precision");
    detail::study_watch watch(options, so_far.replicates());
    const auto batches_of = [](std::uint64_t replicates) {
        return (replicates + detail::replicates_in_a_batch - 1) / detail::replicates_in_a_batch;
    };
    const std::uint64_t all = batches_of(options.replicates);
    const bool looks = options.precision || options.checkpoint; // at which threads wait for each other
    for (std::uint64_t done = 0, next = 0;; done = next) {
        next = looks ? std::min(detail::next_look(done), all) : all;
        const std::uint64_t last = std::min(next * detail::replicates_in_a_batch, options.replicates);
        if (!detail::not_covered({done * detail::replicates_in_a_batch, last}, so_far.covered()).empty()) {
            so_far.merge(executor(batch_range{done, next}, detail::batch_work(model, options, so_far, watch)));
            if (options.checkpoint) options.checkpoint(so_far);
        }
        so_far.ended = watch.ended();
        if (so_far.ended != study_end::finished) return so_far;
        // Asked of the first replicates alone: where more are known, that many were needed already for less precision.
        if (options.precision && so_far.replicates() == last && so_far.covered().back().last == last) {
            const auto needed = detail::replicates_for(so_far, *options.precision);
            const auto most = static_cast<double>(options.replicates);
            watch.expect(needed ? static_cast<std::uint64_t>(std::ceil(std::min(*needed, most))) : options.replicates);
            if (needed && *needed <= static_cast<double>(last)) {
                so_far.ended = study_end::precise;
                return so_far;
            }
        } else {
            watch.expect(options.replicates);
        }
        if (next == all) return so_far;
    }
}

/// Runs `model` (see `study_model`) for replicates 0, 1, ... and gives what its outputs come to, to the same bits whatever the executor:
/// `serial{}`, `threads(n)`, `shard(i, k)` whose results are merged, or your own (`study_executor`). `study_result::ended` says why it
/// stopped. A replicate in which the model throws is counted, named and left out, as impossible draws are counted by their reasons.
///
/// Throws `invalid_input` for options that are none (`validate(study_options)`), an outline that is none (`study_result`), and a
/// precision asked of a shard; what `progress`, `stop` and `checkpoint` throw. Work is the replicates' own, and some 80 ns an output.
template <study_model Model, study_executor Executor = serial>
[[nodiscard]] study_result run_study(const Model& model, const study_options& options = {},
                                     const Executor& executor = {}) {
    return resume_study(study_result(options.title, options.seed, model.outline()), model, options, executor);
}

} // namespace tranche
