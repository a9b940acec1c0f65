// Certified sets of the NIST Statistical Reference Datasets (public domain, read in the source).
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cmath>
#include <vector>

namespace reference_sets {

/// Digits that agree, at most 16.
inline double digits(double found, double certified) {
    return found == certified ? 16.0 : -std::log10(std::abs(found / certified - 1.0));
}

/// NumAcc2 to NumAcc4: base + 0.2, then base + 0.1 and base + 0.3 five hundred times, written as decimals are.
inline std::vector<double> numacc(double two, double one, double three) {
    std::vector<double> values{two};
    for (int i = 0; i < 500; ++i) {
        values.push_back(one);
        values.push_back(three);
    }
    return values;
}

/// Norris, (y, x).
inline constexpr double norris[36][2] = {
    {0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},    {228.1, 226.5},
    {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
    {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
    {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
    {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
    {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}};

/// SiRstv, five instruments.
inline std::vector<std::vector<double>> sirstv() {
    return {{196.3052, 196.1240, 196.1890, 196.2569, 196.3403},
            {196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
            {196.1303, 196.2005, 196.2889, 196.0343, 196.1811},
            {196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
            {196.2119, 196.1051, 196.1850, 196.0052, 196.2090}};
}

} // namespace reference_sets
