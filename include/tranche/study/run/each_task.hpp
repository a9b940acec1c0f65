// Tasks with numbers, done side by side by an executor of studies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <atomic>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <limits>
#include <mutex>

#include <tranche/study/run/executors.hpp>
#include <tranche/study/run/study_result.hpp>

namespace tranche {

/// What `each_task` takes: called with the number of a task, or with that and the number of the room in which it is done. It is called
/// from several threads at once; each task writes into a place of its own, so that it does not matter who did it.
template <class Task>
concept numbered_task =
    std::invocable<const Task&, std::uint64_t> || std::invocable<const Task&, std::uint64_t, std::size_t>;

namespace detail {

template <class Task>
void do_task(const Task& task, std::uint64_t number, std::size_t room) {
    if constexpr (std::invocable<const Task&, std::uint64_t, std::size_t>)
        task(number, room);
    else
        task(number);
}

} // namespace detail

/// Calls task(i) for each i below `count`, or task(i, room), from the threads of the executor: `serial`, `threads(n)`, or your own that
/// does all of a range in one process. Tasks of one room are never done at once, and rooms are numbered from 0 on, below the number of
/// threads: what a thread wants to use again stands in a list by its room. With one task, or `serial`, nothing is started and nothing
/// locked.
///
/// Of tasks that throw, what the first of them by number threw is thrown on, as with one thread; those behind it may be left out.
/// Work is the tasks' own, and some microseconds a thread.
template <study_executor Executor, numbered_task Task>
void each_task(const Executor& executor, std::uint64_t count, const Task& task) {
    static_assert(Executor::complete,
                  "this needs an executor of one process, `serial` or `threads`: a shard would do a share of it");
    if (std::same_as<Executor, serial> || count < 2) {
        for (std::uint64_t i = 0; i < count; ++i) detail::do_task(task, i, 0);
        return;
    }
    std::atomic<std::uint64_t> failed{std::numeric_limits<std::uint64_t>::max()};
    std::atomic<std::size_t> rooms{0};
    std::exception_ptr error;
    std::mutex guard;
    (void)executor(batch_range{0, count}, [&](auto&& next) {
        const std::size_t room = rooms++;
        while (const auto i = next()) {
            if (*i > failed) continue;
            try {
                detail::do_task(task, *i, room);
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

} // namespace tranche
