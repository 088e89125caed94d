// A soft spot on a plain wall.
uniform vec3 middle;  // sRGB
uniform vec3 rim;
uniform float aspect;

in vec2 at;

out vec4 fragment;

void main() {
  vec2 from = (at - vec2(0.5, 0.56)) * vec2(min(aspect, 1.6), 1.0);
  float share = smoothstep(0.05, 1.0, length(from));
  // A fixed pattern of half a step keeps the slow gradient from showing bands and still packs well.
  ivec2 cell = ivec2(gl_FragCoord.xy) & 1;
  float dither = (float(cell.x ^ cell.y) * 0.5 + float(cell.y) * 0.25 - 0.375) / 255.0;
  fragment = vec4(mix(middle, rim, share) + dither, 1.0);
}
