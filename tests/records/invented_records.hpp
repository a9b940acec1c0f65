// Records of invented suppliers for the tests, the same on every platform.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <chrono>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include <tranche/records/cutting_record.hpp>
#include <tranche/units/quantity.hpp>

namespace invented_cuts {

inline std::chrono::year_month_day day(int days_after) {
    return std::chrono::sys_days(std::chrono::year(2026) / 1 / 5) + std::chrono::days(days_after);
}

inline double between(std::mt19937& random, double low, double high) {
    return low + (high - low) * (static_cast<double>(random()) / 4294967295.0);
}

/// Weights are whole grams, so sums of them are exact.
inline std::vector<tranche::cutting_record> records(std::uint32_t seed, int count) {
    using namespace tranche;
    std::mt19937 random(seed);
    const auto grams = [&](double low, double high) {
        return to_mass({static_cast<std::int64_t>(between(random, low, high)) * 1'000'000});
    };
    std::vector<cutting_record> list;
    int days = 0;
    for (int i = 0; i < count; ++i) {
        cutting_record r;
        days += static_cast<int>(random() % 5); // some of one day
        r.date = day(days);
        r.supplier = std::string("supplier ") + "ABC"[random() % 3];
        r.grade = random() % 2 == 0 ? "choice" : "select";
        r.note = "no " + std::to_string(i);
        r.bought = grams(5300, 6500); // more than all parts can weigh
        r.usable = grams(3500, 4200);
        r.by_products[destination::strips] = grams(0, 200);
        r.by_products[destination::grind] = grams(200, 400);
        r.by_products[destination::rendering] = grams(200, 300);
        r.cutting_loss = grams(0, 30);
        r.purge = grams(0, 120);
        if (random() % 3 != 0) r.predicted_yield = between(random, 0.65, 0.80);
        validate(r);
        list.push_back(r);
    }
    return list;
}

} // namespace invented_cuts
