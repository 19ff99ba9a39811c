//! What is measured: lengths, readings, times, dates and ages, as exact values with bounds.
