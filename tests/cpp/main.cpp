// Catch2 version 2 needs one file that holds its main; version 3 brings a library with it.
#if !__has_include(<catch2/catch_test_macros.hpp>)
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
#endif
