// The linear programme whose prices bound an order: as many rows as lines and groups of loins, by the simplex method.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include <tranche/orders/detail/line_worth.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// max Σ worth × share + Σ what lines are worth, where the shares of what a group of loins offered add up to one. Portions missing
/// or left over are paid for at the ends of a box, which is where prices stay. Bounded primal simplex with a dense inverse, so
/// columns and boxes may change between solutions. Money in units of the currency.
class price_master {
public:
    /// Lines that want `scale` times what they say; of each group whether it may offer nothing.
    price_master(const std::vector<line_worth>& lines, double scale, const std::vector<bool>& may_offer_nothing)
        : lines_(lines.size()), rows_(lines.size() + may_offer_nothing.size()) {
        values_.assign(rows_, 1.0);
        basis_.resize(rows_);
        for (std::size_t j = 0; j < lines_; ++j) { // missing, left over, and the stretches between corners
            values_[j] = scale * static_cast<double>(lines[j].wanted());
            basis_[j] = add({.row = j, .entry = 1.0});
            add({.row = j, .entry = -1.0});
            for (std::size_t k = 1; k < lines[j].corners().size(); ++k) {
                if (lines[j].corners()[k] == line_worth::endless) break;
                const double wide = scale * static_cast<double>(lines[j].corners()[k] - lines[j].corners()[k - 1]);
                if (wide > 0.0)
                    add({.row = j,
                         .entry = -1.0,
                         .cost = 1e-9 * static_cast<double>(lines[j].slopes()[k]),
                         .most = wide});
            }
        }
        right_.assign(values_.begin(), values_.end());
        for (std::size_t g = 0; g + lines_ < rows_; ++g)
            basis_[lines_ + g] = add({.row = lines_ + g, .entry = 1.0, .cost = may_offer_nothing[g] ? 0.0 : -1e12});
        for (std::size_t r = 0; r < rows_; ++r) columns_[basis_[r]].at = r;
        inverse_.assign(rows_ * rows_, 0.0);
        for (std::size_t r = 0; r < rows_; ++r) inverse_[r * rows_ + r] = 1.0;
    }

    /// Prices stay between these, in units of the currency.
    void set_box(const std::vector<double>& low, const std::vector<double>& high) {
        for (const column& c : columns_) // in the order that they were made in
            if (c.row < lines_ && c.most == unlimited_) {
                const auto i = static_cast<std::size_t>(&c - columns_.data());
                columns_[i].cost = c.entry > 0.0 ? -high[c.row] : low[c.row];
            }
    }
    /// What a group offered: its worth and its portions by line. Returns the number of the offer.
    std::size_t offer(std::size_t group, double worth, const std::vector<double>& portions) {
        entries_.insert(entries_.end(), portions.begin(), portions.end());
        const std::size_t c = add({.row = lines_ + group, .entry = 1.0, .cost = worth, .offer = offers_.size()});
        offers_.push_back(c);
        return columns_[c].offer;
    }

    /// The best shares and prices. False where rounding got the better of it.
    template <class = when_called>
    bool solve();

    [[nodiscard]] double value() const { return value_; }
    /// One portion more to make costs so much: minus the multiplier of its row.
    [[nodiscard]] double price(std::size_t line) const { return -prices_[line]; }
    /// Of an offer, 0 to 1.
    [[nodiscard]] double share(std::size_t offer) const {
        const column& c = columns_[offers_[offer]];
        return c.at != none ? std::max(0.0, values_[c.at]) : 0.0;
    }

private:
    static constexpr std::size_t none = std::numeric_limits<std::size_t>::max();
    static constexpr double unlimited_ = std::numeric_limits<double>::infinity();

    struct column {
        std::size_t row = 0; ///< of the line or group that has its entry
        double entry = 0.0, cost = 0.0, most = unlimited_;
        std::size_t offer = none, at = none; ///< which offer it is; the row of the basis where it stands
        bool at_most = false;
    };

    std::size_t add(const column& c) {
        columns_.push_back(c);
        return columns_.size() - 1;
    }
    /// `vector` · column.
    [[nodiscard]] double times(const double* vector, const column& c) const {
        double sum = vector[c.row] * c.entry;
        if (c.offer == none) return sum;
        const double* const entries = entries_.data() + c.offer * lines_;
        for (std::size_t j = 0; j < lines_; ++j) sum += vector[j] * entries[j];
        return sum;
    }
    template <class = when_called>
    void find_prices() {
        prices_.assign(rows_, 0.0);
        for (std::size_t r = 0; r < rows_; ++r) {
            const double cost = columns_[basis_[r]].cost;
            if (cost == 0.0) continue;
            for (std::size_t k = 0; k < rows_; ++k) prices_[k] += cost * inverse_[r * rows_ + k];
        }
    }
    /// inverse × column.
    template <class = when_called>
    void find_direction(const column& c) {
        direction_.resize(rows_);
        for (std::size_t r = 0; r < rows_; ++r) direction_[r] = times(inverse_.data() + r * rows_, c);
    }
    template <class = when_called>
    bool invert();
    template <class = when_called>
    void pivot(std::size_t entering, std::size_t row);

    std::size_t lines_, rows_;
    std::vector<column> columns_;
    std::vector<std::size_t> offers_;
    std::vector<double> entries_;    ///< of offers, by line
    std::vector<std::size_t> basis_; ///< the column of each row
    std::vector<double> right_, values_, inverse_, prices_, direction_;
    double value_ = 0.0;
    std::size_t since_inverted_ = 0;
};

/// By Gauss and Jordan, with the largest pivot of each column.
template <class>
bool price_master::invert() {
    const std::size_t n = rows_, width = 2 * n;
    std::vector<double> work(n * width, 0.0);
    for (std::size_t r = 0; r < n; ++r) {
        const column& c = columns_[basis_[r]];
        work[c.row * width + r] = c.entry;
        if (c.offer != none)
            for (std::size_t j = 0; j < lines_; ++j) work[j * width + r] = entries_[c.offer * lines_ + j];
        work[r * width + n + r] = 1.0;
    }
    for (std::size_t k = 0; k < n; ++k) {
        std::size_t best = k;
        for (std::size_t r = k + 1; r < n; ++r)
            if (std::abs(work[r * width + k]) > std::abs(work[best * width + k])) best = r;
        if (std::abs(work[best * width + k]) < 1e-12) return false;
        if (best != k)
            std::swap_ranges(work.begin() + static_cast<std::ptrdiff_t>(k * width),
                             work.begin() + static_cast<std::ptrdiff_t>((k + 1) * width),
                             work.begin() + static_cast<std::ptrdiff_t>(best * width));
        const double by = 1.0 / work[k * width + k];
        for (std::size_t j = k; j < width; ++j) work[k * width + j] *= by;
        for (std::size_t r = 0; r < n; ++r) {
            const double factor = work[r * width + k];
            if (r == k || factor == 0.0) continue;
            for (std::size_t j = k; j < width; ++j) work[r * width + j] -= factor * work[k * width + j];
        }
    }
    for (std::size_t r = 0; r < n; ++r)
        for (std::size_t k = 0; k < n; ++k) inverse_[r * n + k] = work[r * width + n + k];
    std::vector<double> rest = right_;
    rest.resize(n, 1.0);
    for (const column& c : columns_)
        if (c.at_most) rest[c.row] -= c.entry * c.most;
    for (std::size_t r = 0; r < n; ++r) {
        values_[r] = 0.0;
        for (std::size_t k = 0; k < n; ++k) values_[r] += inverse_[r * n + k] * rest[k];
    }
    since_inverted_ = 0;
    return true;
}

template <class>
void price_master::pivot(std::size_t entering, std::size_t row) {
    columns_[basis_[row]].at = none;
    basis_[row] = entering;
    columns_[entering].at = row;
    columns_[entering].at_most = false;
    double* const of_row = inverse_.data() + row * rows_;
    const double by = 1.0 / direction_[row];
    for (std::size_t k = 0; k < rows_; ++k) of_row[k] *= by;
    for (std::size_t r = 0; r < rows_; ++r) {
        if (r == row || direction_[r] == 0.0) continue;
        double* const other = inverse_.data() + r * rows_;
        for (std::size_t k = 0; k < rows_; ++k) other[k] -= direction_[r] * of_row[k];
    }
    ++since_inverted_;
}

template <class>
bool price_master::solve() {
    std::size_t idle = 0; // pivots without gain: then the first column that may gain enters, which ends circles
    for (std::size_t pivots = 0; pivots < 50 * (rows_ + 20); ++pivots) {
        if (since_inverted_ >= 60 && !invert()) return false;
        find_prices();
        std::size_t entering = none;
        double most = 0.0;
        for (std::size_t c = 0; c < columns_.size(); ++c) {
            const column& of = columns_[c];
            if (of.at != none) continue;
            double gain = of.cost - times(prices_.data(), of);
            if (of.at_most) gain = -gain;
            if (gain > most + 1e-9 * (1.0 + std::abs(of.cost))) {
                entering = c;
                if (idle > 40) break;
                most = gain;
            }
        }
        if (entering == none) {
            value_ = 0.0;
            for (std::size_t r = 0; r < rows_; ++r) value_ += columns_[basis_[r]].cost * values_[r];
            for (const column& c : columns_)
                if (c.at_most) value_ += c.cost * c.most;
            return true;
        }
        find_direction(columns_[entering]);
        const double towards = columns_[entering].at_most ? -1.0 : 1.0;
        double step = columns_[entering].most;
        std::size_t leaving = none;
        bool leaves_at_most = false;
        for (std::size_t r = 0; r < rows_; ++r) {
            const double change = towards * direction_[r]; // by which the value of the row falls
            const double room = columns_[basis_[r]].most;
            double until = unlimited_;
            if (change > 1e-9)
                until = std::max(0.0, values_[r]) / change;
            else if (change < -1e-9 && room < unlimited_)
                until = std::max(0.0, room - values_[r]) / -change;
            else
                continue;
            const bool better = until < step - 1e-12 || (leaving != none && until <= step + 1e-12 &&
                                                         std::abs(change) > std::abs(direction_[leaving]));
            if (!better) continue;
            step = std::min(step, until);
            leaving = r;
            leaves_at_most = change < 0.0;
        }
        if (step == unlimited_) return false;
        idle = step > 1e-12 ? 0 : idle + 1;
        for (std::size_t r = 0; r < rows_; ++r) values_[r] -= step * towards * direction_[r];
        if (leaving == none) {
            columns_[entering].at_most = !columns_[entering].at_most;
            continue;
        }
        const double value = columns_[entering].at_most ? columns_[entering].most - step : step;
        columns_[basis_[leaving]].at_most = leaves_at_most;
        pivot(entering, leaving);
        values_[leaving] = value;
    }
    return false;
}

} // namespace tranche::detail
