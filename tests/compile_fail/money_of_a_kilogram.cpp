// A unit that is no currency makes no money.
// SPDX-License-Identifier: BSL-1.0
// gnu: constraint failure
// clang: constraints not satisfied
// message: currency
#include <boost/units/base_units/si/kilogram.hpp>

#include <tranche/units/currency.hpp>

int main() {
#ifdef TRANCHE_NONSENSE
    const tranche::money<boost::units::si::kilogram_base_unit> bill{};
#else
    const tranche::money<tranche::usd> bill{};
#endif
    return bill.value() > 0.0 ? 1 : 0;
}
