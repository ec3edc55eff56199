//! Values worked out from a job, live beside the entries they depend on.
