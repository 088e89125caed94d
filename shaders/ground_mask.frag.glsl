// Red: there is something; green: it is near the ground.
in float height;

out vec4 fragment;

void main() {
  fragment = vec4(exp(-height / 40.0), exp(-height / 5.0), 0.0, 1.0);
}
