import pc from 'picocolors'

const { FORCE_COLOR, NO_COLOR } = process.env

/** Colours for a terminal, and where they are asked for: a report that is piped or kept stays plain, in a build machine too. */
export const terminalColors = pc.createColors(Boolean(FORCE_COLOR) || (process.stdout.isTTY === true && !NO_COLOR))
