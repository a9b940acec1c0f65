// For the harness: a source that expects no message must be reported.
// SPDX-License-Identifier: BSL-1.0
int main() {
#ifdef TRANCHE_NONSENSE
    sell(1.5);
#endif
}
