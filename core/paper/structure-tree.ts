/** An object of a PDF: its data is written when it ends. A reference to it may stand in the data of others before that. */
export interface PdfObject {
  data: object
  end(): void
}

/** What an element says beside its content. */
export interface Said {
  /** A picture in words. */
  readonly alt?: string
  /** Of a header cell: what it heads. */
  readonly scope?: 'Row' | 'Column'
}

interface Element {
  readonly role: string
  readonly said: Said
  readonly parent: Element | null
  /** Made with its first content, so that an element without any is never written. */
  object: PdfObject | null
  /** The page its first content stands on. */
  page: PdfObject | null
  kids: (object | number)[]
}

const NOTHING_SAID: Said = {}

/**
 * The structure of a document as a screen reader walks it (ISO 32000-1, 14.7 and 14.8): elements with what stands in them, and for
 * every page which element each marked piece belongs to. An element is written when it closes, a page's list when the page ends;
 * afterwards only their numbers are kept, so that memory stays flat over ten thousand pages.
 */
export class StructureTree {
  readonly #newObject: (data: object) => PdfObject
  readonly #root: PdfObject
  readonly #document: Element
  readonly #open: Element[]
  /** Page keys and the lists of their pieces, in turn: the parent tree. */
  readonly #pieces: (object | number)[] = []
  #pages = 0
  #page: { readonly object: PdfObject; readonly key: number; readonly owners: PdfObject[] } | null = null

  /** `newObject` makes an object of the file; `root` becomes the tree's root and is ended by whoever made it. */
  constructor(newObject: (data: object) => PdfObject, root: PdfObject) {
    this.#newObject = newObject
    this.#root = root
    this.#document = { role: 'Document', said: NOTHING_SAID, parent: null, object: newObject({}), page: null, kids: [] }
    this.#open = [this.#document]
  }

  /** `page` is the page's dictionary. */
  beginPage(page: PdfObject): void {
    this.#page = { object: page, key: this.#pages, owners: [] }
    Object.assign(page.data, { StructParents: this.#pages })
    this.#pages += 1
  }

  endPage(): void {
    if (!this.#page) return
    const { key, owners } = this.#page
    this.#pieces.push(key, this.#written(this.#newObject(owners)))
    this.#page = null
  }

  open(role: string, said: Said = NOTHING_SAID): void {
    this.#open.push({ role, said, parent: this.#innermost(), object: null, page: null, kids: [] })
  }

  close(): void {
    const element = this.#open.pop()
    if (!element || element === this.#document) throw new Error('More elements were closed than opened.')
    if (element.object) this.#write(element, element.object)
  }

  /** Whether an element is open that content can belong to. */
  get isOpen(): boolean {
    return this.#open.length > 1
  }

  /** Takes a piece of the open page into the innermost open element and returns its number on the page. */
  mark(): number {
    const page = this.#page
    if (!page) throw new Error('Content stands on a page.')
    const element = this.#innermost()
    const object = this.#objectOf(element)
    const number = page.owners.length
    page.owners.push(object)
    element.page ??= page.object
    element.kids.push(element.page === page.object ? number : { Type: 'MCR', Pg: page.object, MCID: number })
    return number
  }

  /** Writes what is left: the document's own element and the parent tree. */
  end(): void {
    const document = this.#objectOf(this.#document)
    this.#write(this.#document, document)
    const parents = this.#written(this.#newObject({ Nums: this.#pieces }))
    this.#root.data = { Type: 'StructTreeRoot', K: document, ParentTree: parents, ParentTreeNextKey: this.#pages }
  }

  #innermost(): Element {
    return this.#open.at(-1) ?? this.#document
  }

  #objectOf(element: Element): PdfObject {
    if (element.object) return element.object
    const object = this.#newObject({})
    element.object = object
    if (element.parent) {
      this.#objectOf(element.parent)
      element.parent.kids.push(object)
    }
    return object
  }

  #write({ role, said, parent, page, kids }: Element, object: PdfObject): void {
    const above = parent ? this.#objectOf(parent) : this.#root
    object.data = { S: role, P: above, ...(page ? { Pg: page } : {}), ...attributes(said), K: kids }
    this.#written(object)
  }

  /** Ends an object and lets go of what it held. */
  #written(object: PdfObject): PdfObject {
    object.end()
    object.data = {}
    return object
  }
}

function attributes({ alt, scope }: Said): object {
  return {
    ...(alt === undefined ? {} : { Alt: new String(alt) }),
    ...(scope === undefined ? {} : { A: { O: 'Table', Scope: scope } }),
  }
}
