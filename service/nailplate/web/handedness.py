"""The picture of a plan's directions: x to the right, y up, left and right of a wall from its ``from`` toward its ``to``."""

from typing import Final

PICTURE: Final = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 360 240" width="360" height="240" role="img" \
aria-label="x runs to the right and y up; left and right of a wall are seen from its from toward its to">
<title>Directions in a plan</title>
<style>text { font: 14px sans-serif; } .small { font-size: 12px; }</style>
<defs><marker id="tip" viewBox="0 0 8 8" refX="7" refY="4" markerWidth="8" markerHeight="8" orient="auto-start-reverse">
<path d="M0 0 8 4 0 8z"/></marker></defs>
<path d="M40 210H120M40 210V130" stroke="black" fill="none" stroke-width="2" marker-end="url(#tip)"/>
<path d="M40 210H120" stroke="black" stroke-width="2" marker-end="url(#tip)"/>
<text x="126" y="215">x</text><text x="36" y="120">y</text><text class="small" x="12" y="228">[0, 0]</text>
<path d="M170 120H330" stroke="gray" stroke-width="14"/>
<path d="M170 120H330" stroke="black" stroke-width="1.5" marker-end="url(#tip)"/>
<text x="150" y="145">from</text><text x="322" y="145">to</text>
<text x="236" y="90">left</text><text x="234" y="162">right</text>
<text class="small" x="150" y="200">along and height count from `from` and from</text>
<text class="small" x="150" y="216">the finished floor to the center of a box.</text>
</svg>
"""
