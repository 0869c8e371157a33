//! Photographs.
