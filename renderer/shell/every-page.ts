/** Where a page of rows ended, as the lists that are read by key hand it out. */
export type PageEnd = { readonly key: string; readonly id: number } | null

/** Every row of a list that is read page by page: for an export, which takes all of it. */
export async function everyPage<Row, End>(
  ask: (after: End | null) => Promise<{ readonly rows: readonly Row[]; readonly next: End | null }>,
): Promise<Row[]> {
  const rows: Row[] = []
  let after: End | null = null
  do {
    const page: { readonly rows: readonly Row[]; readonly next: End | null } = await ask(after)
    rows.push(...page.rows)
    after = page.next
  } while (after !== null)
  return rows
}

/** What the table shows of pages that come one after another: the rows so far, the way to more, and what went wrong. */
export interface PagesShown<Page> {
  readonly data: { readonly pages: readonly Page[] } | undefined
  readonly hasNextPage: boolean
  readonly isFetchingNextPage: boolean
  readonly fetchNextPage: () => Promise<unknown>
}

export function rowsOfPages<Row>(pages: PagesShown<{ readonly rows: readonly Row[] }>): readonly Row[] | null {
  return pages.data?.pages.flatMap((page) => page.rows) ?? null
}

/** Fetches the next page; undefined while there is none, or while it is on its way. */
export function moreOfPages(pages: PagesShown<unknown>): (() => void) | undefined {
  return pages.hasNextPage && !pages.isFetchingNextPage ? () => void pages.fetchNextPage() : undefined
}
