// Tasks with numbers, done by an executor of studies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <atomic>
#include <cstdint>
#include <exception>
#include <limits>
#include <mutex>

#include <tranche/study/run/executors.hpp>
#include <tranche/study/run/study_result.hpp>

namespace tranche::detail {

/// Calls task(i) for each i below `count`, from the threads of the executor. Of tasks that throw, what the first of them by number
/// threw is thrown on, as with one thread; those behind it may be left out.
template <class Executor, class Task>
void each_task(const Executor& executor, std::uint64_t count, const Task& task) {
    static_assert(study_executor<Executor> && Executor::complete,
                  "this needs an executor of one process, `serial` or `threads`: a shard would do a share of it");
    std::atomic<std::uint64_t> failed{std::numeric_limits<std::uint64_t>::max()};
    std::exception_ptr error;
    std::mutex guard;
    (void)executor(batch_range{0, count}, [&](auto&& next) {
        while (const auto i = next()) {
            if (*i > failed) continue;
            try {
                task(*i);
            } catch (...) {
                const std::lock_guard<std::mutex> alone(guard);
                if (*i < failed) {
                    failed = *i;
                    error = std::current_exception();
                }
            }
        }
        return study_result("tasks", 0, {{{.name = "tasks"}}, {}});
    });
    if (error) std::rethrow_exception(error);
}

} // namespace tranche::detail
