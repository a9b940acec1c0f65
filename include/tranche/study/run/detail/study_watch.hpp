// Watches a study from the threads that run it: when to stop, and whom to tell how far it is.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <mutex>
#include <optional>

#include <tranche/study/run/study_options.hpp>

namespace tranche::detail {

class study_watch {
public:
    study_watch(const study_options& options, std::uint64_t done)
        : options_(options), done_before_(done), done_(done), of_(options.replicates) {}

    /// Whether to stop, now and from now on. In any thread.
    [[nodiscard]] bool stops() {
        if (ended_.load(std::memory_order_relaxed) != study_end::finished) return true;
        if (options_.stop())
            ended_ = study_end::stopped;
        else if (options_.most_time && clock::now() - start_ >= *options_.most_time)
            ended_ = study_end::out_of_time;
        else
            return false;
        return true;
    }
    /// Whether anything can make it stop. Never changes.
    [[nodiscard]] bool may_stop() const { return bool(options_.stop) || options_.most_time; }
    [[nodiscard]] study_end ended() const { return ended_; }

    /// So many more are done; tells if it is time to. In any thread.
    void done(std::uint64_t replicates) {
        if (!options_.progress) return; // a number that all threads write costs all of them
        done_ += replicates;
        const std::unique_lock lock(telling_, std::try_to_lock);
        if (lock && clock::now() >= next_) tell_now();
    }

    /// So many there will be, as far as is known; tells.
    void expect(std::uint64_t replicates) {
        of_ = replicates;
        if (!options_.progress) return;
        const std::lock_guard lock(telling_);
        tell_now();
    }

private:
    using clock = std::chrono::steady_clock;

    void tell_now() {
        const auto now = clock::now();
        next_ = now + std::chrono::milliseconds(100);
        study_progress progress{.done = done_, .of = std::max<std::uint64_t>(of_, done_)};
        const double seconds = std::chrono::duration<double>(now - start_).count();
        if (progress.done > done_before_ && seconds > 0.0) {
            progress.per_second = static_cast<double>(progress.done - done_before_) / seconds;
            progress.left =
                std::chrono::duration<double>(static_cast<double>(progress.of - progress.done) / progress.per_second);
        }
        options_.progress(progress);
    }

    const study_options& options_;
    clock::time_point start_ = clock::now(), next_ = start_ + std::chrono::milliseconds(100);
    std::uint64_t done_before_;
    std::atomic<std::uint64_t> done_, of_;
    std::atomic<study_end> ended_{study_end::finished};
    std::mutex telling_{};
};

} // namespace tranche::detail
