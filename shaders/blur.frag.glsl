// One way of a Gaussian blur (the other way is a second pass); red and green each by its own width.
uniform sampler2D map;
uniform vec2 step_red;  // between looks, share of the map
uniform vec2 step_green;

in vec2 at;

out vec4 fragment;

void main() {
  vec2 sum = vec2(0.0);
  float weights = 0.0;
  for (int i = -8; i <= 8; ++i) {
    float weight = exp(-float(i * i) / 22.0);
    sum += weight * vec2(texture(map, at + step_red * float(i)).r, texture(map, at + step_green * float(i)).g);
    weights += weight;
  }
  fragment = vec4(sum / weights, 0.0, 1.0);
}
