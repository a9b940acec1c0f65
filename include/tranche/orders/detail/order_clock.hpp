// What planning an order has done so far, held against its limits.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>

#include <tranche/orders/order_limits.hpp>
#include <tranche/orders/order_plan.hpp>

namespace tranche::detail {

/// Counts work, asks whether to stop, and tells of progress.
class order_clock {
public:
    explicit order_clock(const order_limits& limits) : limits_(limits) {}
    order_clock(const order_clock&) = delete;
    order_clock& operator=(const order_clock&) = delete;

    /// Whether so many loins may be planned now. Once it says no it stays with that.
    [[nodiscard]] bool go_on(std::size_t loins) {
        if (ended()) return false;
        if (limits_.stop())
            end_ = order_end::stopped;
        else if (loins > limits_.most_loin_plans - std::min(known.loin_plans, limits_.most_loin_plans))
            end_ = order_end::out_of_work;
        return !ended();
    }
    /// Whether work that plans no loins may go on. So that it costs nothing, `stop` is asked once in so much work, less than some
    /// milliseconds.
    [[nodiscard]] bool go_on_after(std::size_t work) {
        since_asked_ += work;
        if (since_asked_ < often) return !ended();
        since_asked_ = 0;
        return go_on(0);
    }
    /// The same of work that a plan is to have although no more loins may be planned: only `stop` ends it.
    [[nodiscard]] bool not_stopped_after(std::size_t work) {
        since_asked_ += work;
        if (since_asked_ < often || end_ == order_end::stopped) return end_ != order_end::stopped;
        since_asked_ = 0;
        if (limits_.stop()) end_ = order_end::stopped;
        return end_ != order_end::stopped;
    }
    [[nodiscard]] bool ended() const { return end_ != order_end::gap_left; }
    [[nodiscard]] order_end end() const { return end_; }
    [[nodiscard]] const order_limits& limits() const { return limits_; }

    /// Of plans of single loins.
    void count(std::size_t loins) { known.loin_plans += loins; }
    void found_bound(std::int64_t bound) {
        if (bound < known.bound) known.bound = bound;
        tell();
    }
    void found_value(std::int64_t value) {
        if (value > known.value) known.value = value;
        tell();
    }
    /// Whether what is known is good enough.
    [[nodiscard]] bool close_enough() const {
        if (known.value >= known.bound) return true;
        if (known.value == order_progress{}.value) return false;
        const double gap = static_cast<double>(known.bound) - static_cast<double>(known.value);
        return gap <= limits_.relative_gap * (known.value < 0 ? -1.0 : 1.0) * static_cast<double>(known.value);
    }

    order_progress known{};

private:
    void tell() const {
        if (limits_.progress) limits_.progress(known);
    }

    const order_limits& limits_;
    order_end end_ = order_end::gap_left;
    static constexpr std::size_t often = std::size_t{1} << 16U;
    std::size_t since_asked_ = 0;
};

} // namespace tranche::detail
