// Words with lengths and masses between them, so that whoever shows them chooses the units.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// A quantity in a sentence, and which way to round it: something that is to be allowed has to be enough as it is written.
template <class Quantity>
struct written_quantity {
    enum class rounding { nearest, up, down };
    Quantity value{};
    rounding to = rounding::nearest;

    /// Rounded to whole `steps`; what is within a millionth of a step of one is taken for it. `step` is above zero, in
    /// the unit of the value; not checked. Throws nothing.
    [[nodiscard]] Quantity in_whole(Quantity step) const {
        const double count = value / step;
        switch (to) {
        case rounding::up: return std::ceil(count - 1e-6) * step;
        case rounding::down: return std::floor(count + 1e-6) * step;
        case rounding::nearest: break;
        }
        return std::round(count) * step;
    }

    friend bool operator==(const written_quantity&, const written_quantity&) = default;
};

namespace detail {

template <class Quantity>
[[nodiscard]] written_quantity<Quantity> rounded_up(Quantity value) {
    return {value, written_quantity<Quantity>::rounding::up};
}
template <class Quantity>
[[nodiscard]] written_quantity<Quantity> rounded_down(Quantity value) {
    return {value, written_quantity<Quantity>::rounding::down};
}

} // namespace detail

/// Built by `+` from left to right, starting with a sentence: sentence("at ") + 3_mm + " from the rib face". Lengths
/// and masses are any, NaN too, and kept as they are; what makes, joins and writes sentences throws nothing but for
/// lack of memory.
class sentence {
public:
    sentence() = default;
    TRANCHE_COLD sentence(std::string words)
        : parts_{{std::move(words), what::words, {}, {}}} {}                           // NOLINT: words are a sentence
    TRANCHE_COLD sentence(const char* words) : sentence(std::string(words)) {}         // NOLINT
    TRANCHE_COLD sentence(length value) : sentence(written_quantity<length>{value}) {} // NOLINT
    TRANCHE_COLD sentence(mass value) : sentence(written_quantity<mass>{value}) {}     // NOLINT
    TRANCHE_COLD sentence(written_quantity<length> value) : parts_{{{}, what::a_length, value, {}}} {} // NOLINT
    TRANCHE_COLD sentence(written_quantity<mass> value) : parts_{{{}, what::a_mass, {}, value}} {}     // NOLINT

    TRANCHE_COLD sentence& operator+=(const sentence& more) {
        // Counted first and looked up anew each time: `more` may be this sentence itself.
        const std::size_t parts = more.parts_.size();
        parts_.reserve(parts_.size() + parts);
        for (std::size_t i = 0; i < parts; ++i) parts_.push_back(more.parts_[i]);
        return *this;
    }
    TRANCHE_COLD friend sentence operator+(sentence first, const sentence& more) { return std::move(first += more); }

    /// Equal in their words and quantities, however those are written.
    friend bool operator==(const sentence&, const sentence&) = default;

    /// Whether it has no parts at all. Throws nothing.
    [[nodiscard]] bool empty() const { return parts_.empty(); }

    /// `write` says how it writes a `written_quantity` of either kind. O(parts). Throws what `write` throws.
    template <class Write>
    [[nodiscard]] TRANCHE_COLD std::string written(const Write& write) const {
        std::string text;
        for (const part& p : parts_) {
            if (p.is == what::words) text += p.words;
            if (p.is == what::a_length) text += write(p.one_length);
            if (p.is == what::a_mass) text += write(p.one_mass);
        }
        return text;
    }
    /// In millimetres to two decimals and grams to one, as errors have them; less than that as `shown` has it.
    [[nodiscard]] TRANCHE_COLD std::string text() const {
        return written([]<class Quantity>(const written_quantity<Quantity>& q) {
            if (q.to == written_quantity<Quantity>::rounding::nearest) return detail::shown(q.value);
            if constexpr (std::is_same_v<Quantity, length>)
                return detail::shown(q.in_whole(0.01 * millimetre));
            else
                return detail::shown(q.in_whole(0.1 * gram));
        });
    }

private:
    enum class what { words, a_length, a_mass };
    struct part { // no std::variant: every message would pay for its machinery
        std::string words;
        what is = what::words;
        written_quantity<length> one_length;
        written_quantity<mass> one_mass;

        friend bool operator==(const part&, const part&) = default;
    };
    std::vector<part> parts_;
};

} // namespace tranche
