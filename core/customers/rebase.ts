/**
 * What somebody typed, carried over to the record as it stands now: a field they left alone takes its new value, one they changed keeps
 * theirs. For saving again after a refusal.
 */
export function rebased<Fields extends object>(seen: Fields, mine: Fields, now: Fields): Fields {
  const carried = { ...now }
  for (const name of Object.keys(mine) as (keyof Fields)[]) if (mine[name] !== seen[name]) carried[name] = mine[name]
  return carried
}
