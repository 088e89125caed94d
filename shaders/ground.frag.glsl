// The shadow on the ground, as black that covers.
uniform sampler2D map;
uniform float strength;

in vec2 at;

out vec4 fragment;

void main() {
  vec2 shade = texture(map, at).rg;
  float alpha = strength * (1.0 - (1.0 - 0.50 * shade.r) * (1.0 - 0.46 * shade.g));
  fragment = vec4(0.0, 0.0, 0.0, alpha);
}
