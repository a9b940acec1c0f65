// Who runs the replicates of a study: one thread, several, or one of several processes.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <atomic>
#include <bit>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <optional>
#include <string>
#include <system_error>
#include <thread>
#include <utility>
#include <vector>

#include <tranche/study/run/study_result.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// Batches of replicates from `first` up to, but without, `last`.
struct batch_range {
    std::uint64_t first = 0, last = 0;

    friend bool operator==(const batch_range&, const batch_range&) = default;
};

namespace detail {

/// Work as an executor sees it.
struct any_work {
    template <class Next>
    study_result operator()(Next&& next) const;
};

} // namespace detail

/// What `run_study` gives an executor: batches, and work to be called with a function that hands out one batch after the other (none
/// where there are no more) and may be called as often, and from as many threads, as the executor likes. Each call gives a part of the
/// result; the executor gives all parts, merged. `Executor::complete` says whether that is of all batches (then a study can stop at a
/// precision) or of a share of them.
///
/// One that spreads work over machines runs its own share, passes `study_bytes` round and merges them: `examples/study_mpi.cpp`.
template <class Executor>
concept study_executor = requires(const Executor& executor, batch_range batches, const detail::any_work& work) {
    { Executor::complete } -> std::convertible_to<bool>;
    { executor(batches, work) } -> std::same_as<study_result>;
};

/// One thread, the one that calls.
struct serial {
    static constexpr bool complete = true;

    template <class Work>
    [[nodiscard]] study_result operator()(batch_range batches, const Work& work) const {
        return work([&]() -> std::optional<std::uint64_t> {
            if (batches.first >= batches.last) return std::nullopt;
            return batches.first++;
        });
    }
};

/// Several threads, the one that calls among them. Stretches of batches go to whoever is free, shorter and shorter ones; the result is
/// that of `serial`, to the last bit.
class threads {
public:
    static constexpr bool complete = true;

    /// As many as the machine runs at once.
    threads() : count_(std::max(1U, std::thread::hardware_concurrency())) {}
    /// Throws `invalid_input` for none, and more than 1024.
    explicit threads(unsigned count) : count_(count) {
        if (count < 1 || count > 1024) throw invalid_input("threads", std::to_string(count), "1 to 1024");
    }

    /// Where the system gives fewer threads, fewer do the work. What progress, stop or checkpoint throw is thrown on.
    template <class Work>
    [[nodiscard]] study_result operator()(batch_range batches, const Work& work) const {
        std::atomic<std::uint64_t> next{batches.first};
        // No more than there are batches: a thread costs tens of microseconds.
        const std::size_t team_size = std::clamp<std::uint64_t>(batches.last - batches.first, 1, count_);
        std::vector<std::optional<study_result>> parts(team_size);
        std::vector<std::exception_ptr> errors(team_size);
        const auto take = [&](std::size_t i) {
            try {
                batch_range own;
                parts[i].emplace(work([&]() -> std::optional<std::uint64_t> {
                    if (own.first >= own.last) own = next_stretch(next, batches.last);
                    return own.first < own.last ? std::optional(own.first++) : std::nullopt;
                }));
            } catch (...) {
                errors[i] = std::current_exception();
                next = batches.last; // the others finish what they have
            }
        };
        {
            joined_threads team;
            try {
                for (std::size_t i = 1; i < team_size; ++i) team.all.emplace_back(take, i);
            } catch (const std::system_error&) { // NOLINT: those that there are take all batches
            }
            take(0);
        }
        for (const std::exception_ptr& error : errors)
            if (error) std::rethrow_exception(error);
        study_result all = std::move(*parts[0]);
        for (std::size_t i = 1; i < team_size; ++i)
            if (parts[i]) all.merge(*parts[i]);
        return all;
    }

private:
    /// An eighth of each thread's share of what is left, one batch at least: few stretches, and nobody waits long at the end.
    [[nodiscard]] batch_range next_stretch(std::atomic<std::uint64_t>& next, std::uint64_t last) const {
        std::uint64_t first = next.load(), to = first;
        do {
            if (first >= last) return {};
            to = first + std::max<std::uint64_t>(1, (last - first) / (8 * std::uint64_t{count_}));
        } while (!next.compare_exchange_weak(first, to));
        return {first, to};
    }

    struct joined_threads {
        std::vector<std::thread> all{};
        joined_threads() = default;
        joined_threads(const joined_threads&) = delete;
        joined_threads& operator=(const joined_threads&) = delete;
        ~joined_threads() {
            for (std::thread& one : all) one.join();
        }
    };

    unsigned count_;
};

/// One of `count` processes, by an executor of its own: every `count`-th stretch of batches, each stretch a thousandth of those before
/// it. The results of all of them merge to that of `serial`, to the last bit; until then a study cannot know its precision, so it runs
/// a stated number of replicates.
template <class Executor = serial>
class shard {
public:
    static constexpr bool complete = false;

    /// `index` is 0 to `count` - 1. Throws `invalid_input` for others.
    shard(std::uint64_t index, std::uint64_t count, Executor executor = {})
        : index_(index), count_(count), executor_(std::move(executor)) {
        if (count < 1) throw invalid_input("shards", "0", "at least one");
        if (index >= count) throw invalid_input("shard", std::to_string(index), "0 to " + std::to_string(count - 1));
    }

    template <class Work>
    [[nodiscard]] study_result operator()(batch_range batches, const Work& work) const {
        return executor_(batches, [&](auto&& next) {
            return work([&]() -> std::optional<std::uint64_t> {
                while (true) {
                    const std::optional<std::uint64_t> batch = next();
                    if (!batch || stretch_of(*batch) % count_ == index_) return batch;
                }
            });
        });
    }

private:
    /// Which stretch a batch belongs to, whatever the number of replicates: 1024 from each power of two to the next. So a result has
    /// few ranges of replicates, and each shard its share.
    [[nodiscard]] static std::uint64_t stretch_of(std::uint64_t batch) {
        const auto doublings = static_cast<unsigned>(std::bit_width(batch >> 10U));
        return doublings < 2 ? batch : batch >> (doublings - 1);
    }

    std::uint64_t index_, count_;
    Executor executor_;
};

} // namespace tranche
