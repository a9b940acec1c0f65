// A price in one currency makes no bill in another.
// SPDX-License-Identifier: BSL-1.0
// gnu: conversion from .*tranche::usd.* to non-scalar type .*tranche::eur
// clang: no viable conversion from .*tranche::usd.*tranche::eur
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const unit_price<usd> price = 8.1_usd / 1_lb;
#ifdef TRANCHE_NONSENSE
    const money<eur> bill = price * 11.9_lb;
#else
    const money<usd> bill = price * 11.9_lb;
#endif
    return bill.value() > 0.0 ? 0 : 1;
}
