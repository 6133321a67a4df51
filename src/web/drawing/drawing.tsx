import { type PlotOptions, plot } from '@observablehq/plot'
import { type ReactNode, useEffect, useRef, useState } from 'react'
import { useWidth } from './use-width.js'

/** A drawing's own pixels: how large it is, and where its scales put a value. */
export interface Frame {
  readonly width: number
  readonly height: number
  readonly xOf: (value: number | Date) => number
  readonly yOf: (value: number) => number
}

type DrawnPlot = ReturnType<typeof plot>

interface DrawingProps {
  /** What to draw at a width; the same function as long as the data are the same. */
  draw: (width: number) => PlotOptions
  label: string
  /** What lies over the drawing and stands below it, once it is drawn. */
  children?: (frame: Frame) => ReactNode
}

/** Narrower it would be all axis; a page of that width scales it down. */
const LEAST_WIDTH = 240

/** A drawing as wide as its place, one picture with one sentence to whoever hears it. Heavy: for modules that are loaded when first seen. */
export function Drawing({ draw, label, children }: DrawingProps) {
  const place = useRef<HTMLDivElement>(null)
  const width = useWidth(place)
  const [frame, setFrame] = useState<Frame | null>(null)
  useEffect(() => {
    if (!place.current || width === 0) return
    const svg = drawn(draw(Math.max(width, LEAST_WIDTH)), label)
    place.current.replaceChildren(document.adoptNode(svg))
    setFrame(frameOf(svg))
  }, [draw, label, width])
  return (
    <div className="plot">
      <div ref={place} />
      {frame && children?.(frame)}
    </div>
  )
}

/**
 * Draws in a document of its own and takes the style element out: the page's content security policy allows none, and
 * the rules it holds stand in drawing.css.
 */
function drawn(options: PlotOptions, label: string): DrawnPlot {
  const svg = plot({
    ...options,
    document: document.implementation.createHTMLDocument(''),
    className: 'plot-drawing',
    ariaLabel: label,
  })
  svg.querySelector('style')?.remove()
  // One picture with one sentence: names of its parts are for style and tests, not for readers.
  for (const part of svg.querySelectorAll('[aria-label]')) {
    part.setAttribute('data-part', part.getAttribute('aria-label') ?? '')
    part.removeAttribute('aria-label')
  }
  svg.setAttribute('role', 'img')
  return svg
}

function frameOf(svg: DrawnPlot): Frame {
  const [x, y] = [svg.scale('x'), svg.scale('y')]
  return {
    width: Number(svg.getAttribute('width')),
    height: Number(svg.getAttribute('height')),
    xOf: (value) => Number(x?.apply(value)),
    yOf: (value) => Number(y?.apply(value)),
  }
}
