// Tasks are each done once, in rooms of their own, and fail as they do one after the other.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/run/each_task.hpp>

#include <algorithm>
#include <atomic>
#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace each_task_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("each task is done once, whoever does it") {
    for (const std::uint64_t count : {0U, 1U, 2U, 3U, 50U, 1000U}) {
        std::vector<int> alone(count), together(count), many(count);
        each_task(serial{}, count, [&](std::uint64_t i) { ++alone[i]; });
        each_task(threads(2), count, [&](std::uint64_t i) { ++together[i]; });
        each_task(threads(7), count, [&](std::uint64_t i, std::size_t) { ++many[i]; });
        const std::vector<int> once(count, 1);
        CHECK(alone == once);
        CHECK(together == once);
        CHECK(many == once);
    }
}

TEST_CASE("no two tasks are in one room at once, and there are no more rooms than threads") {
    constexpr std::size_t team = 4;
    std::vector<std::atomic<int>> inside(team);
    std::atomic<int> together{0};
    std::atomic<std::size_t> beyond{0};
    each_task(threads(team), 2000, [&](std::uint64_t, std::size_t room) {
        if (room >= team) {
            ++beyond;
            return;
        }
        if (++inside[room] > 1) ++together;
        --inside[room];
    });
    CHECK(beyond == 0);
    CHECK(together == 0);
    each_task(serial{}, 10, [&](std::uint64_t, std::size_t room) { beyond += room; });
    CHECK(beyond == 0);
}

TEST_CASE("what the first task by number throws is thrown, whoever comes to it first") {
    const auto some = [](std::uint64_t i) {
        if (i % 100 == 37) throw std::runtime_error("task " + std::to_string(i));
    };
    CHECK_THROWS_WITH(each_task(serial{}, 1000, some), "task 37");
    for (int i = 0; i < 20; ++i) CHECK_THROWS_WITH(each_task(threads(3), 1000, some), "task 37");
    CHECK_THROWS_WITH(each_task(threads(3), 1, [](std::uint64_t) { throw std::runtime_error("alone"); }), "alone");
}

} // namespace each_task_test
