// The form of a change (PROTOCOL.md, section 1) and of a fact, which is a change before it has an
// identity.

export type Value = number | string | readonly string[]
export type Scope = 'field' | 'shed' | 'money'
export type Op = 'set' | 'count' | 'correct' | 'add' | 'remove' | (string & {})

export interface Stamp {
  readonly l: number
  readonly c: number
}

export interface Fact {
  readonly scope: Scope
  readonly op: Op
  readonly type: string
  readonly id: string
  readonly field: string
  readonly value: Value
  readonly extra?: Readonly<Record<string, Value>>
}

export interface Change extends Fact {
  readonly incarnation: string
  readonly seq: number
  readonly stamp: Stamp
  readonly rest: number
  readonly person: string
}
