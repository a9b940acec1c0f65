// One currency does not turn into another by assignment.
// SPDX-License-Identifier: BSL-1.0
// gnu: conversion from .*tranche::usd.* to non-scalar type .*tranche::eur
// clang: no viable conversion from .*tranche::usd.*tranche::eur
#include <tranche/units/literals.hpp>

using namespace tranche;
using namespace tranche::literals;

int main() {
#ifdef TRANCHE_NONSENSE
    const money<eur> bill = 7.9_usd;
#else
    const money<eur> bill = 7.9_eur;
#endif
    return bill.value() > 0.0 ? 0 : 1;
}
