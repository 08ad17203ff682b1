/** Bad use or unreadable input: one line for the person, exit code 2. */
export class UsageError extends Error {}
