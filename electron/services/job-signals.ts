/** Places in the memory that the engine and the worker of a job share, in 32-bit integers: 1 where the engine has said so. */
export const STOP = 0
export const MAY_WRITE = 1
export const SIGNAL_BYTES = 8
