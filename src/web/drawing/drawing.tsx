import { type PlotOptions, plot } from '@observablehq/plot'
import { useEffect, useRef, useState } from 'react'

interface DrawingProps {
  /** What to draw at a width; the same function as long as the data are the same. */
  draw: (width: number) => PlotOptions
  label: string
}

/** Narrower it would be all axis; a page of that width scales it down. */
const LEAST_WIDTH = 240

/** A drawing as wide as its place, one picture with one sentence to whoever hears it. Heavy: for modules that are loaded when first seen. */
export function Drawing({ draw, label }: DrawingProps) {
  const place = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useEffect(() => {
    if (!place.current) return
    const observer = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)))
    observer.observe(place.current)
    return () => observer.disconnect()
  }, [])
  useEffect(() => {
    if (place.current && width > 0) place.current.replaceChildren(drawn(draw(Math.max(width, LEAST_WIDTH)), label))
  }, [draw, label, width])
  return <div className="plot" ref={place} />
}

/** Draws in a document of its own and takes the style element out: the page's content security policy allows none. */
function drawn(options: PlotOptions, label: string): Element {
  const svg = plot({
    ...options,
    document: document.implementation.createHTMLDocument(''),
    className: 'plot-drawing',
    ariaLabel: label,
  })
  svg.querySelector('style')?.remove()
  for (const part of svg.querySelectorAll('[aria-label]')) {
    part.setAttribute('data-part', part.getAttribute('aria-label') ?? '')
    part.removeAttribute('aria-label')
  }
  svg.setAttribute('role', 'img')
  return document.adoptNode(svg)
}
