// A loop whose turns threads share, for work whose results do not depend on who did it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace tranche::detail {

/// So many threads as are asked for, or as the machine runs at once.
[[nodiscard]] inline std::size_t threads_for(std::size_t asked) {
    return asked > 0 ? asked : std::max<std::size_t>(1, std::thread::hardware_concurrency());
}

/// turn(i, thread) for each i below `turns`, `thread` below `threads`. The first exception leaves it, once all have ended.
template <class Turn>
void side_by_side(std::size_t turns, std::size_t threads, const Turn& turn) {
    const std::size_t at_once = turns < 512 ? 1 : 32;
    threads = std::clamp<std::size_t>(threads, 1, std::max<std::size_t>(1, turns / at_once));
    if (threads == 1) {
        for (std::size_t i = 0; i < turns; ++i) turn(i, std::size_t{0});
        return;
    }
    std::atomic<std::size_t> next{0};
    std::exception_ptr thrown;
    std::mutex throwing;
    const auto work = [&](std::size_t thread) {
        try {
            for (;;) {
                const std::size_t from = next.fetch_add(at_once);
                if (from >= turns) return;
                for (std::size_t i = from; i < std::min(turns, from + at_once); ++i) turn(i, thread);
            }
        } catch (...) {
            const std::lock_guard<std::mutex> alone(throwing);
            if (!thrown) thrown = std::current_exception();
            next = turns;
        }
    };
    std::vector<std::thread> others;
    for (std::size_t t = 1; t < threads; ++t) others.emplace_back(work, t);
    work(0);
    for (std::thread& other : others) other.join();
    if (thrown) std::rethrow_exception(thrown);
}

} // namespace tranche::detail
