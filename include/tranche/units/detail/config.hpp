// What this compiler and its standard library can do, for the few things that not all can.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <version>

/// Stands in front of a function that writes words, of which a program writes few: the compiler keeps it short, which takes half
/// the time of making it fast.
#ifndef TRANCHE_COLD
#ifdef __GNUC__
#define TRANCHE_COLD [[gnu::cold]]
#else
#define TRANCHE_COLD
#endif
#endif

/// For loops that are compiled for several kinds of registers: what they call must not stay a call. See
/// units/detail/wide_columns.hpp.
#ifdef __GNUC__
#define TRANCHE_INLINED __attribute__((always_inline))
#else
#define TRANCHE_INLINED
#endif

// Each is 1 or 0 and is asked in the one header that holds the way round it; define it beforehand to take that way anywhere,
// and in every translation unit of a program alike.

/// `std::from_chars` for double: libc++ has none up to 19. See units/detail/number_from_chars.hpp.
#ifndef TRANCHE_HAS_FLOATING_FROM_CHARS
#if defined(__cpp_lib_to_chars) && __cpp_lib_to_chars >= 201611L
#define TRANCHE_HAS_FLOATING_FROM_CHARS 1
#else
#define TRANCHE_HAS_FLOATING_FROM_CHARS 0
#endif
#endif

/// Integers of 128 bits, which no compiler has where an address is 32 bits. See units/detail/wide_integer.hpp.
#ifndef TRANCHE_HAS_INT128
#ifdef __SIZEOF_INT128__
#define TRANCHE_HAS_INT128 1
#else
#define TRANCHE_HAS_INT128 0
#endif
#endif

/// `__builtin_add_overflow` and its like, of g++ and clang. See units/detail/overflow.hpp.
#ifndef TRANCHE_HAS_OVERFLOW_BUILTINS
#ifdef __GNUC__
#define TRANCHE_HAS_OVERFLOW_BUILTINS 1
#else
#define TRANCHE_HAS_OVERFLOW_BUILTINS 0
#endif
#endif

/// Square roots of two numbers at once, without a header of intrinsics, which is long. See units/detail/wide_columns.hpp.
#ifndef TRANCHE_HAS_ROOTS_OF_TWO
#if defined(__has_builtin) && defined(__SSE2__) && !defined(__FAST_MATH__)
#if __has_builtin(__builtin_ia32_sqrtpd)
#define TRANCHE_HAS_ROOTS_OF_TWO 1
#endif
#endif
#ifndef TRANCHE_HAS_ROOTS_OF_TWO
#define TRANCHE_HAS_ROOTS_OF_TWO 0
#endif
#endif

/// Code for registers of 256 bits (AVX2) beside the other, chosen where the program runs: g++ and clang for x86-64. See
/// units/detail/wide_columns.hpp and study/random/detail/philox_columns.hpp.
#ifndef TRANCHE_HAS_WIDE_COLUMNS
#if defined(__GNUC__) && defined(__x86_64__) && defined(__ELF__) && !defined(__FAST_MATH__)
#define TRANCHE_HAS_WIDE_COLUMNS 1
#else
#define TRANCHE_HAS_WIDE_COLUMNS 0
#endif
#endif
