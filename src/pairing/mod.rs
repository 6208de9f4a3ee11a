//! Two readings lined up: time map, registration, differences. Pure.
