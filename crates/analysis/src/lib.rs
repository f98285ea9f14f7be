//! Landmarks in; track, moments and measures with their uncertainty out.
