// A price per mass times a length is no sum of money.
// SPDX-License-Identifier: BSL-1.0
// gnu: conversion from .*length_base_dimension.* to non-scalar type .*tranche::usd
// clang: no viable conversion from .*length_base_dimension.*tranche::usd
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
    const unit_price<usd> price = 8.1_usd / 1_lb;
#ifdef TRANCHE_NONSENSE
    const money<usd> bill = price * 16.5_in;
#else
    const money<usd> bill = price * 11.9_lb;
#endif
    return bill.value() > 0.0 ? 0 : 1;
}
