// Laminates and fibre sheet: cloth or paper in layers square to the radial axis. A crowned surface cuts through
// them and shows their contour lines.
uniform vec3 pale;   // linear colours of resin-rich and cloth-rich layers
uniform vec3 dark;
uniform vec4 layer;  // thickness mm, contrast, thread mm (0: no cloth), roughness

in vec3 grain_at;
in vec3 grain_facing;

void main() {
  vec3 g = grain_at;
  float pixel = pixel_size(g);
  float level = (g.y + 0.10 * (noise(vec3(g.x * 0.25, g.z * 0.25, 4.0)) - 0.5)) / layer.x;
  float seen = visible(0.5, fwidth(level));
  float band = mix(0.5, 0.5 + 0.5 * cos(6.2831853 * level), seen);
  float tone = layer.y * (band - 0.5) + 0.20 * (noise(g * vec3(0.9, 2.0, 0.9)) - 0.5);
  if (layer.z > 0.0) {
    vec2 thread = g.xz / layer.z + 0.5 * floor(level);
    float weave = sin(3.14159265 * thread.x) * sin(3.14159265 * thread.y);
    float over = weave > 0.0 ? abs(sin(3.14159265 * thread.x)) : abs(sin(3.14159265 * thread.y));
    tone += 0.55 * layer.y * (over - 0.6) * visible(layer.z * 0.8, pixel);
  }
  vec3 albedo = mix(dark, pale, clamp(0.5 + tone, 0.0, 1.0));
  fragment = finished(albedo, normalize(to_camera * facing), layer.w);
}
