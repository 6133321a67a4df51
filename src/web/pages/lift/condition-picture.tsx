import type { ReactNode } from 'react'
import type { Condition } from '../../../contract/vocabulary.js'

/** An anode on its strap, seen from the side; each look changes it in one way. */
const STRAP = <path className="look-strap" d="M4 30h56v4H4z" />
const BODY = 'M12 30q0-13 12-13h16q12 0 12 13v4q0 8-12 8H24q-12 0-12-8Z'

const PICTURES: Readonly<Record<Condition, ReactNode>> = {
  even: (
    <>
      <path className="look-gone" d={BODY} />
      {STRAP}
      <path className="look-metal" d="M17 30q1-8 9-8h12q8 0 9 8v3q-1 5-9 5H26q-8 0-9-5Z" />
    </>
  ),
  bright: (
    <>
      {STRAP}
      <path className="look-metal look-shiny" d={BODY} />
      <path className="look-line" d="M20 23 26 19M22 32l14-11M34 38l12-10M8 12l4 4M32 6v6M56 12l-4 4" />
    </>
  ),
  'sharp-edged': (
    <>
      <path className="look-gone" d={BODY} />
      {STRAP}
      <path
        className="look-metal"
        d="M13 30 20 22 24 27 30 18 35 26 41 19 44 27 51 29 47 36 40 33 34 41 28 34 21 40 18 34Z"
      />
    </>
  ),
  crusted: (
    <>
      {STRAP}
      <path className="look-metal" d={BODY} />
      <path
        className="look-crust"
        d="M10 26q0-6 5-6 0-6 6-5 3-5 8-2 4-4 9 0 6-2 8 3 6 0 6 5 4 1 3 6-5 3-9 0-4 4-8 0-4 4-9 0-4 4-9 0-5 3-10-1Z"
      />
    </>
  ),
  painted: (
    <>
      {STRAP}
      <path className="look-metal" d={BODY} />
      <path className="look-paint" d="M12 30q0-13 12-13h16q12 0 12 13v4h-5v7h-4v-5h-8v9h-4v-9h-9v6h-4v-6q-6-1-6-6Z" />
    </>
  ),
  loose: (
    <>
      <path className="look-strap" d="M4 36h56v4H4z" />
      <path className="look-metal" d="M11 24q2-11 13-9l17 4q11 3 9 13-2 8-12 6l-18-4q-11-3-9-10Z" />
      <path className="look-line" d="M7 43q4 6 10 6m30 0q6 0 10-6M14 46l3 3-4 2M50 46l-3 3 4 2" />
    </>
  ),
  broken: (
    <>
      <path className="look-gone" d={BODY} />
      {STRAP}
      <path className="look-metal" d="M12 30q0-13 12-13h7l-4 7 6 5-5 6 4 7h-8q-12 0-12-8Z" />
      <path className="look-line" d="m38 20 4-5m0 11 7-1m-9 9 6 4" />
    </>
  ),
  missing: (
    <>
      <path className="look-gone" d={BODY} />
      {STRAP}
      <circle className="look-hole" cx="14" cy="32" r="3" />
      <circle className="look-hole" cx="50" cy="32" r="3" />
    </>
  ),
  undercut: (
    <>
      {STRAP}
      <path className="look-metal" d="M12 27q0-10 12-10h16q12 0 12 10-7 5-12 1-4 4-8 0-4 4-8 0-5 4-12-1Z" />
      <path className="look-line" d="M20 42v-7m12 9v-9m12 7v-7" />
    </>
  ),
  pitted: (
    <>
      <path className="look-metal" d="M6 16h52v30H6z" />
      <g className="look-pit">
        <circle cx="18" cy="26" r="4" />
        <circle cx="32" cy="34" r="5.500" />
        <circle cx="45" cy="24" r="3" />
        <circle cx="22" cy="39" r="2.500" />
        <circle cx="48" cy="38" r="3.500" />
      </g>
    </>
  ),
  pink: (
    <>
      <path className="look-brass" d="M24 8h16v8h8v12H16V16h8zM20 28h24v24H20z" />
      <path className="look-pink" d="M20 34q8-6 13 0t11-2v20H20z" />
    </>
  ),
  scaled: (
    <>
      <path className="look-metal" d="M6 16h52v30H6z" />
      <path
        className="look-crust"
        d="M6 16h52v8q-5 5-9 1-3 7-9 2-4 6-10 1-5 6-10 0-5 5-14 1ZM10 40q5-4 9 0-4 6-9 6ZM40 38q6-3 10 2-2 6-10 4Z"
      />
    </>
  ),
  'paint-blistered': (
    <>
      <path className="look-paint" d="M6 14h52v34H6z" />
      <g className="look-blister">
        <circle cx="18" cy="25" r="5" />
        <circle cx="33" cy="36" r="7" />
        <circle cx="47" cy="24" r="4" />
      </g>
      <path className="look-metal" d="m42 48 4-8 7-2 5 4v6z" />
    </>
  ),
}

/** A look of an anode, or of the metal round it, drawn in one sign. */
export function ConditionPicture({ code }: { code: Condition }) {
  return (
    <svg className="look-picture" viewBox="0 5 64 48" aria-hidden="true">
      {PICTURES[code]}
    </svg>
  )
}
