// For the harness: nonsense that compiles must be reported.
// SPDX-License-Identifier: BSL-1.0
// message: fractions of a slice are not sold
void sell(double) {}

int main() {
#ifdef TRANCHE_NONSENSE
    sell(1.5);
#else
    sell(1);
#endif
}
