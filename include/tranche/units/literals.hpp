// Literals: 12.5_lb, 11_oz, 0.75_in, 19_mm, 7.9_usd, 30_percent. `using namespace tranche::literals` brings them in.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/units/currency.hpp>
#include <tranche/units/quantity.hpp>

/// Each unit takes whole and decimal numbers alike: `12_lb`, `12.5_lb`.
namespace tranche::literals {

[[nodiscard]] constexpr mass operator""_kg(long double x) { return static_cast<double>(x) * kilogram; }
[[nodiscard]] constexpr mass operator""_kg(unsigned long long x) { return static_cast<double>(x) * kilogram; }
[[nodiscard]] constexpr mass operator""_g(long double x) { return static_cast<double>(x) * gram; }
[[nodiscard]] constexpr mass operator""_g(unsigned long long x) { return static_cast<double>(x) * gram; }
[[nodiscard]] constexpr mass operator""_lb(long double x) { return static_cast<double>(x) * pound; }
[[nodiscard]] constexpr mass operator""_lb(unsigned long long x) { return static_cast<double>(x) * pound; }
[[nodiscard]] constexpr mass operator""_oz(long double x) { return static_cast<double>(x) * ounce; }
[[nodiscard]] constexpr mass operator""_oz(unsigned long long x) { return static_cast<double>(x) * ounce; }

[[nodiscard]] constexpr length operator""_m(long double x) { return static_cast<double>(x) * metre; }
[[nodiscard]] constexpr length operator""_m(unsigned long long x) { return static_cast<double>(x) * metre; }
[[nodiscard]] constexpr length operator""_cm(long double x) { return static_cast<double>(x) * centimetre; }
[[nodiscard]] constexpr length operator""_cm(unsigned long long x) { return static_cast<double>(x) * centimetre; }
[[nodiscard]] constexpr length operator""_mm(long double x) { return static_cast<double>(x) * millimetre; }
[[nodiscard]] constexpr length operator""_mm(unsigned long long x) { return static_cast<double>(x) * millimetre; }
[[nodiscard]] constexpr length operator""_in(long double x) { return static_cast<double>(x) * inch; }
[[nodiscard]] constexpr length operator""_in(unsigned long long x) { return static_cast<double>(x) * inch; }
[[nodiscard]] constexpr length operator""_ft(long double x) { return static_cast<double>(x) * foot; }
[[nodiscard]] constexpr length operator""_ft(unsigned long long x) { return static_cast<double>(x) * foot; }

[[nodiscard]] constexpr area operator""_cm2(long double x) {
    return static_cast<double>(x) * (centimetre * centimetre);
}
[[nodiscard]] constexpr area operator""_cm2(unsigned long long x) {
    return static_cast<double>(x) * (centimetre * centimetre);
}
[[nodiscard]] constexpr area operator""_in2(long double x) { return static_cast<double>(x) * (inch * inch); }
[[nodiscard]] constexpr area operator""_in2(unsigned long long x) { return static_cast<double>(x) * (inch * inch); }

[[nodiscard]] constexpr volume operator""_cm3(long double x) {
    return static_cast<double>(x) * (centimetre * centimetre * centimetre);
}
[[nodiscard]] constexpr volume operator""_cm3(unsigned long long x) {
    return static_cast<double>(x) * (centimetre * centimetre * centimetre);
}
[[nodiscard]] constexpr volume operator""_in3(long double x) { return static_cast<double>(x) * (inch * inch * inch); }
[[nodiscard]] constexpr volume operator""_in3(unsigned long long x) {
    return static_cast<double>(x) * (inch * inch * inch);
}

[[nodiscard]] constexpr density operator""_kg_per_m3(long double x) {
    return static_cast<double>(x) * kilogram_per_cubic_metre;
}
[[nodiscard]] constexpr density operator""_kg_per_m3(unsigned long long x) {
    return static_cast<double>(x) * kilogram_per_cubic_metre;
}
[[nodiscard]] constexpr density operator""_g_per_cm3(long double x) {
    return static_cast<double>(x) * (1000.0 * kilogram_per_cubic_metre);
}
[[nodiscard]] constexpr density operator""_g_per_cm3(unsigned long long x) {
    return static_cast<double>(x) * (1000.0 * kilogram_per_cubic_metre);
}

[[nodiscard]] constexpr duration operator""_s(long double x) { return static_cast<double>(x) * second; }
[[nodiscard]] constexpr duration operator""_s(unsigned long long x) { return static_cast<double>(x) * second; }
[[nodiscard]] constexpr duration operator""_min(long double x) { return static_cast<double>(x) * minute; }
[[nodiscard]] constexpr duration operator""_min(unsigned long long x) { return static_cast<double>(x) * minute; }
[[nodiscard]] constexpr duration operator""_h(long double x) { return static_cast<double>(x) * hour; }
[[nodiscard]] constexpr duration operator""_h(unsigned long long x) { return static_cast<double>(x) * hour; }

[[nodiscard]] constexpr fraction operator""_percent(long double x) { return static_cast<double>(x) * 0.01; }
[[nodiscard]] constexpr fraction operator""_percent(unsigned long long x) { return static_cast<double>(x) * 0.01; }

[[nodiscard]] constexpr money<usd> operator""_usd(long double x) {
    return static_cast<double>(x) * money<usd>::from_value(1.0);
}
[[nodiscard]] constexpr money<usd> operator""_usd(unsigned long long x) {
    return static_cast<double>(x) * money<usd>::from_value(1.0);
}

[[nodiscard]] constexpr money<eur> operator""_eur(long double x) {
    return static_cast<double>(x) * money<eur>::from_value(1.0);
}
[[nodiscard]] constexpr money<eur> operator""_eur(unsigned long long x) {
    return static_cast<double>(x) * money<eur>::from_value(1.0);
}

[[nodiscard]] constexpr money<gbp> operator""_gbp(long double x) {
    return static_cast<double>(x) * money<gbp>::from_value(1.0);
}
[[nodiscard]] constexpr money<gbp> operator""_gbp(unsigned long long x) {
    return static_cast<double>(x) * money<gbp>::from_value(1.0);
}

[[nodiscard]] constexpr money<cad> operator""_cad(long double x) {
    return static_cast<double>(x) * money<cad>::from_value(1.0);
}
[[nodiscard]] constexpr money<cad> operator""_cad(unsigned long long x) {
    return static_cast<double>(x) * money<cad>::from_value(1.0);
}

[[nodiscard]] constexpr money<aud> operator""_aud(long double x) {
    return static_cast<double>(x) * money<aud>::from_value(1.0);
}
[[nodiscard]] constexpr money<aud> operator""_aud(unsigned long long x) {
    return static_cast<double>(x) * money<aud>::from_value(1.0);
}

[[nodiscard]] constexpr money<jpy> operator""_jpy(long double x) {
    return static_cast<double>(x) * money<jpy>::from_value(1.0);
}
[[nodiscard]] constexpr money<jpy> operator""_jpy(unsigned long long x) {
    return static_cast<double>(x) * money<jpy>::from_value(1.0);
}

[[nodiscard]] constexpr money<bhd> operator""_bhd(long double x) {
    return static_cast<double>(x) * money<bhd>::from_value(1.0);
}
[[nodiscard]] constexpr money<bhd> operator""_bhd(unsigned long long x) {
    return static_cast<double>(x) * money<bhd>::from_value(1.0);
}

} // namespace tranche::literals
